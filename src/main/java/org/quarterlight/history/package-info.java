/** Who did what and when, for each organisation. */
@NullMarked
@ApplicationModule(allowedDependencies = {"kernel", "tenancy", "web"})
package org.quarterlight.history;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
