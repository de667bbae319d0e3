package org.quarterlight.rulebook;

import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Money;

/** What a repair and a replacement cost a fleet on the average, in one currency; both null where it has not said. */
public record CostRates(@Nullable Money repair, @Nullable Money replacement, int version) {}
