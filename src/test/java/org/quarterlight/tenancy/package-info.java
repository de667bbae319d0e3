@NullMarked
package org.quarterlight.tenancy;

import org.jspecify.annotations.NullMarked;
