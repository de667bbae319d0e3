/** Distances and times of a day on the road. Plain Java: no database, no clock. */
@NullMarked
package org.quarterlight.dispatch.routing;

import org.jspecify.annotations.NullMarked;
