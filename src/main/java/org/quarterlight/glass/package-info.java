/** The vocabulary of damage and the pure geometry of a windscreen: outline, zones, distances, and its drawing. No Spring, no database. */
@NullMarked
@ApplicationModule(allowedDependencies = {})
package org.quarterlight.glass;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
