@NullMarked
package org.quarterlight.account;

import org.jspecify.annotations.NullMarked;
