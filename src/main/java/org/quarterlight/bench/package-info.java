/**
 * What the work on a windscreen needs, from figures to a word: dew point, sun on the glass, thermal stress, time under the
 * lamp, time without goggles, and whether a record followed its method. No Spring, no database, no clock: whoever asks
 * says what was read and when.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {})
package org.quarterlight.bench;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
