@NullMarked
package org.quarterlight.glass;

import org.jspecify.annotations.NullMarked;
