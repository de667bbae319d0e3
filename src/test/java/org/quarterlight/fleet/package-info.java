@NullMarked
package org.quarterlight.fleet;

import org.jspecify.annotations.NullMarked;
