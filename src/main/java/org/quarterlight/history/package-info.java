/** Who did what and when, for each organisation, in a chain that shows what was changed afterwards. */
@NullMarked
@ApplicationModule(allowedDependencies = {"kernel", "tenancy", "web", "proof"})
package org.quarterlight.history;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
