/** The lines of the history, as a page and as JSON. */
@NullMarked
package org.quarterlight.history.web;

import org.jspecify.annotations.NullMarked;
