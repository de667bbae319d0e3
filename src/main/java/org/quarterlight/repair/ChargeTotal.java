package org.quarterlight.repair;

import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Money;

/**
 * What charges of one currency come to.
 *
 * @param total null for those without an agreed price
 */
public record ChargeTotal(long charges, @Nullable Money total) {}
