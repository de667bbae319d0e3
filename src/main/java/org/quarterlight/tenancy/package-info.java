/** The organisation of a thread, of a transaction and of an event. The way in is {@link org.quarterlight.tenancy.Tenants}. */
@NullMarked
@ApplicationModule(allowedDependencies = {})
package org.quarterlight.tenancy;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
