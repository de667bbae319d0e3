/**
 * Reads a fleet's own vehicle list whatever its shape, and writes one that reads back as the same. Text goes in, lines
 * and problems come out; it knows no database, no organisation and no clock.
 */
@NullMarked
package org.quarterlight.fleet.list;

import org.jspecify.annotations.NullMarked;
