/** The report, with and without a login, and the pages and paths of damages. */
@NullMarked
package org.quarterlight.damage.web;

import org.jspecify.annotations.NullMarked;
