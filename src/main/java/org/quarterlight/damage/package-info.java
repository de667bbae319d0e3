/**
 * Damages from the first report to their end, what was seen of them and how that was judged. The way in is {@link
 * org.quarterlight.damage.DamageReporting}; it makes no job, for a manager does.
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
            "rulebook"
        })
package org.quarterlight.damage;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
