/** The day board and the vans, as pages and as JSON. */
@NullMarked
package org.quarterlight.dispatch.web;

import org.jspecify.annotations.NullMarked;
