@NullMarked
package org.quarterlight.damage;

import org.jspecify.annotations.NullMarked;
