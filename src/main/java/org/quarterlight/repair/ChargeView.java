package org.quarterlight.repair;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.agreement.Charge;
import org.quarterlight.kernel.Money;

/**
 * What a job costs, as both parties see it.
 *
 * @param furtherChips those of the chips that were charged as further ones of the same visit
 * @param work and callOut and total are null where no price was agreed
 * @param invoiceNumber null until the performer has invoiced it
 */
public record ChargeView(
        UUID id,
        UUID job,
        int jobNumber,
        UUID fleet,
        String fleetName,
        UUID performer,
        String performerName,
        String registration,
        String depotName,
        LocalDate visitedOn,
        Work workKind,
        Charge.Basis basis,
        int chips,
        int furtherChips,
        @Nullable Money work,
        @Nullable Money callOut,
        @Nullable Money total,
        Payer payer,
        @Nullable String claimReference,
        @Nullable String invoiceNumber,
        @Nullable Instant invoicedAt) {}
