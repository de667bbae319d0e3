/**
 * Rule sheets and which of them an organisation judges by. The way in is {@link org.quarterlight.rulebook.Rulebook}; it
 * never judges itself.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {"kernel", "glass", "tenancy", "web", "history", "eligibility"})
package org.quarterlight.rulebook;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
