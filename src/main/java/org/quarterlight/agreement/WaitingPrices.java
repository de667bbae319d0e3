package org.quarterlight.agreement;

import java.time.LocalDate;
import java.util.UUID;

/** Prices that wait for the present organisation's answer. */
public record WaitingPrices(UUID partner, UUID prices, String proposedBy, LocalDate validFrom) {}
