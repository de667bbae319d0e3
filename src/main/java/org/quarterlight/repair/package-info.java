/**
 * Jobs with their brief and their record, where two organisations meet: the fleet whose vehicle it is and whoever
 * performs the work. The ways in are {@link org.quarterlight.repair.RepairJobs} and {@link
 * org.quarterlight.repair.Materials}.
 */
@NullMarked
@ApplicationModule(
        allowedDependencies = {
            "kernel",
            "bench",
            "glass",
            "tenancy",
            "web",
            "account",
            "agreement",
            "photo",
            "history",
            "proof",
            "eligibility",
            "fleet",
            "rulebook",
            "damage"
        })
package org.quarterlight.repair;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
