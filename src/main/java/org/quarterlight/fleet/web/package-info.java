/** Depots, vehicles, glass patterns and cab codes, as pages and as JSON. */
@NullMarked
package org.quarterlight.fleet.web;

import org.jspecify.annotations.NullMarked;
