@NullMarked
package org.quarterlight.repair.web;

import org.jspecify.annotations.NullMarked;
