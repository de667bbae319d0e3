/** The pages and paths of plans and inspections. */
@NullMarked
package org.quarterlight.inspection.web;

import org.jspecify.annotations.NullMarked;
