@NullMarked
package org.quarterlight.fleet.web;

import org.jspecify.annotations.NullMarked;
