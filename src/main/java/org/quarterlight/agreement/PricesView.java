package org.quarterlight.agreement;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Money;

/**
 * Prices as both sides see them; accepted, they hold until the next ones do.
 *
 * @param warrantyMonths how long a repair is made good for nothing; null as long as the glass is fitted
 * @param proposedBy the organisation that proposed them; null where the fleet alone wrote them down, before both were asked
 * @param proposedByUs by the organisation that looks
 * @param answeredAt and answeredBy are null while they wait, and where they count as accepted from before both were asked
 * @param reason why they were declined or taken back
 * @param inForce they hold today
 * @param overtaken others for the same day were accepted later, so these never count
 */
public record PricesView(
        UUID id,
        LocalDate validFrom,
        Money repair,
        Money further,
        Money callOut,
        @Nullable Money replacement,
        @Nullable Integer warrantyMonths,
        Instant madeAt,
        String madeBy,
        @Nullable UUID proposedBy,
        boolean proposedByUs,
        PricesState state,
        @Nullable Instant answeredAt,
        @Nullable String answeredBy,
        @Nullable String reason,
        boolean inForce,
        boolean overtaken) {
    /** The fleet wrote them down when the repairer was not asked yet. */
    public boolean beforeConsent() {
        return proposedBy == null;
    }
}
