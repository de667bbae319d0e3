@NullMarked
package org.quarterlight.repair;

import org.jspecify.annotations.NullMarked;
