@NullMarked
package org.quarterlight.dispatch.web;

import org.jspecify.annotations.NullMarked;
