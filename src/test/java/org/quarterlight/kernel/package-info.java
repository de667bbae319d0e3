@NullMarked
package org.quarterlight.kernel;

import org.jspecify.annotations.NullMarked;
