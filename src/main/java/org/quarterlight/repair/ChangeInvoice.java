package org.quarterlight.repair;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/**
 * Corrects the number of an invoice, for all charges on it together.
 *
 * @param number that it has
 * @param newNumber left out to release its charges: they are on no invoice any more
 */
public record ChangeInvoice(
        @NotBlank @Size(max = 60) String number,

        @Size(max = 60) @Nullable String newNumber,

        @NotBlank @Size(max = 500) String reason) {}
