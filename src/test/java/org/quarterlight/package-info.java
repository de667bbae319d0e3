@NullMarked
package org.quarterlight;

import org.jspecify.annotations.NullMarked;
