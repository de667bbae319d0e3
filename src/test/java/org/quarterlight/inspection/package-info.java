@NullMarked
package org.quarterlight.inspection;

import org.jspecify.annotations.NullMarked;
