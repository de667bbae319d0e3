/**
 * Loads the scenario of demo-data through the services that everybody uses, once into an empty database, and prints the
 * logins. Only with the profile {@code demo}.
 */
@NullMarked
@ApplicationModule(
        allowedDependencies = {
            "kernel",
            "glass",
            "bench",
            "tenancy",
            "web",
            "account",
            "agreement",
            "eligibility",
            "fleet",
            "damage",
            "inspection",
            "repair",
            "dispatch"
        })
package org.quarterlight.demo;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
