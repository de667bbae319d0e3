@NullMarked
package org.quarterlight.rulebook.web;

import org.jspecify.annotations.NullMarked;
