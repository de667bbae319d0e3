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
 * @param warrantyUntil the last day on which this repair is made good for nothing; null as long as the glass is fitted
 * @param invoiceNumber null until the performer has invoiced it
 * @param formerInvoice the number before the last correction, null where nothing was corrected
 * @param invoiceReason why it was corrected
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
        @Nullable LocalDate warrantyUntil,
        Payer payer,
        @Nullable String claimReference,
        @Nullable String invoiceNumber,
        @Nullable Instant invoicedAt,
        @Nullable String formerInvoice,
        @Nullable String invoiceReason) {}
