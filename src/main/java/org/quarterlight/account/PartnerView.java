package org.quarterlight.account;

import java.time.Instant;
import java.util.UUID;

/** An agreement as both sides see it. */
public record PartnerView(
        UUID id,
        UUID fleet,
        String fleetName,
        UUID repairer,
        String repairerName,
        PartnerState state,
        String terms,
        Instant createdAt,
        int version) {}
