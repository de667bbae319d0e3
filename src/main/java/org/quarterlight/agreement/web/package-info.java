/** One partnership as a page and as JSON. */
@NullMarked
package org.quarterlight.agreement.web;

import org.jspecify.annotations.NullMarked;
