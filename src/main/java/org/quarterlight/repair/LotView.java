package org.quarterlight.repair;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A lot of material in the performer's stock. */
public record LotView(
        UUID id,
        String number,
        String resin,
        LotKind kind,
        @Nullable LocalDate expiresOn,
        @Nullable LocalDate openedOn,
        @Nullable Instant recalledAt,
        @Nullable String recallReason,
        boolean retired,
        int version) {
    /** Why it should not have gone into a job at that time; a recall or the end of its stock since is no matter here. */
    Optional<String> blockedAt(Instant used, ZoneId zone) {
        if (recalledAt != null && !used.isBefore(recalledAt)) {
            return Optional.of("Lot " + number + " was recalled: " + recallReason + ".");
        }
        return expiresOn != null && expiresOn.isBefore(used.atZone(zone).toLocalDate())
                ? Optional.of("Lot " + number + " expired on " + expiresOn + ".")
                : Optional.empty();
    }

    /** Why it must not go into a job on this day; empty where it may. */
    public Optional<String> blocked(LocalDate day) {
        if (recalledAt != null) {
            return Optional.of("Lot " + number + " was recalled: " + recallReason + ".");
        }
        if (retired) {
            return Optional.of("Lot " + number + " is out of use.");
        }
        if (expiresOn != null && expiresOn.isBefore(day)) {
            return Optional.of("Lot " + number + " expired on " + expiresOn + ".");
        }
        return Optional.empty();
    }
}
