/** Keeps photos as they came and shows them without what they tell besides the picture. */
@NullMarked
@ApplicationModule(allowedDependencies = {"kernel", "tenancy"})
package org.quarterlight.photo;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
