/** Windscreen damage in fleets: reported, judged, repaired and proved. One package below is one module. */
@NullMarked
package org.quarterlight;

import org.jspecify.annotations.NullMarked;
