/**
 * What a fleet and its repairer have agreed: which work is given at all, and what it costs. The ways in are {@link
 * org.quarterlight.agreement.PartnerLimits} and {@link org.quarterlight.agreement.PriceAgreements}.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {"kernel", "tenancy", "web", "account", "history", "fleet"})
package org.quarterlight.agreement;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
