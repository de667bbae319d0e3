/** Jobs from request to record, as pages and as JSON. */
@NullMarked
package org.quarterlight.repair.web;

import org.jspecify.annotations.NullMarked;
