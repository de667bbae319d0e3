/** Judges the damages of one glass: from facts and sheets to a verdict. No Spring, no database, no clock: the same facts and sheets give the same verdict on every machine. */
@NullMarked
@ApplicationModule(allowedDependencies = {"glass"})
package org.quarterlight.eligibility;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
