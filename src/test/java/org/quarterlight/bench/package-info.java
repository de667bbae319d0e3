@NullMarked
package org.quarterlight.bench;

import org.jspecify.annotations.NullMarked;
