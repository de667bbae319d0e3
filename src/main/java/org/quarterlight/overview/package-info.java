/** Start pages by role, the search, and how much work waits behind each word of the menu. Reads only. */
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
            "agreement",
            "damage",
            "inspection",
            "repair",
            "dispatch"
        })
package org.quarterlight.overview;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
