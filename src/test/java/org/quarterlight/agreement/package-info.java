@NullMarked
package org.quarterlight.agreement;

import org.jspecify.annotations.NullMarked;
