/** What every page and every path shares: layout, security, problem details, idempotency, versions, cursor lists. */
@NullMarked
@ApplicationModule(allowedDependencies = {"kernel", "glass", "tenancy"})
package org.quarterlight.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
