@NullMarked
package org.quarterlight.dispatch.routing;

import org.jspecify.annotations.NullMarked;
