@NullMarked
package org.quarterlight.inspection.web;

import org.jspecify.annotations.NullMarked;
