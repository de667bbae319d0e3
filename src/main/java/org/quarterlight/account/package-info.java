/** People, their memberships and tokens, organisations and the partners between them. */
@NullMarked
@ApplicationModule(allowedDependencies = {"kernel", "tenancy", "web", "history"})
package org.quarterlight.account;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
