@NullMarked
package org.quarterlight.proof;

import org.jspecify.annotations.NullMarked;
