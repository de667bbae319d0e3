/**
 * Planned and asked-for examinations of the glass that vehicles carry, and what they found. The way in is {@link
 * org.quarterlight.inspection.Inspections}; what is found of a damage is told to the module damage.
 */
@NullMarked
@ApplicationModule(
        allowedDependencies = {
            "kernel",
            "glass",
            "tenancy",
            "web",
            "account",
            "photo",
            "history",
            "eligibility",
            "fleet",
            "rulebook",
            "damage"
        })
package org.quarterlight.inspection;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
