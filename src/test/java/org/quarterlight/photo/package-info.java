@NullMarked
package org.quarterlight.photo;

import org.jspecify.annotations.NullMarked;
