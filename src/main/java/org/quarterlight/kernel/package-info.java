/** Words that every module speaks: what is missing, what is refused, what an id is. Nothing else without a reason in DEVELOPERS.md. */
@NullMarked
@ApplicationModule(allowedDependencies = {})
package org.quarterlight.kernel;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
