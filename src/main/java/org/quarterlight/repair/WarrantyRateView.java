package org.quarterlight.repair;

import java.util.UUID;

/**
 * How many of somebody's or something's repairs came back, with the 95 % Wilson interval of the rate. Rates are from 0 to 1.
 *
 * @param repairs closed in the period
 * @param cameBack those of them that were asked for again under warranty, whenever that was
 * @param contested those of them of which the performer says why they have not failed; they are counted all the same
 */
public record WarrantyRateView(
        UUID id,
        String name,
        long repairs,
        long cameBack,
        long contested,
        double rate,
        double rateLow,
        double rateHigh) {}
