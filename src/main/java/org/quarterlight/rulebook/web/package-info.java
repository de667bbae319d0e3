/** Rule sheets with every limit and its source, and the choice among them. */
@NullMarked
package org.quarterlight.rulebook.web;

import org.jspecify.annotations.NullMarked;
