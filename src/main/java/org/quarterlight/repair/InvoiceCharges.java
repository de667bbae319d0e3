package org.quarterlight.repair;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotEmpty;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.List;
import java.util.UUID;

/** Writes down that these charges went into an invoice: one payer of one fleet, in one currency. */
public record InvoiceCharges(
        @NotBlank @Size(max = 60) String number,
        @NotEmpty @Size(max = 500) List<@NotNull UUID> charges) {}
