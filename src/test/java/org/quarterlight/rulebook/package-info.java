@NullMarked
package org.quarterlight.rulebook;

import org.jspecify.annotations.NullMarked;
