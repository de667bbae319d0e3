package org.quarterlight.repair;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A lot of resin in the performer's stock. */
public record LotView(
        UUID id,
        String number,
        String resin,
        LocalDate expiresOn,
        @Nullable LocalDate openedOn,
        boolean retired,
        int version) {}
