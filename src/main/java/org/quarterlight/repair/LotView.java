package org.quarterlight.repair;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.OccurredAt;

/**
 * A lot of material in the performer's stock.
 *
 * @param usableDays for how many days it may be used once it is open; null where its sheet says nothing of that
 * @param takenInAt when it came into the register; null where that was not kept yet
 */
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
        int version,
        @Nullable Integer usableDays,
        @Nullable Instant takenInAt) {
    /** Why it should not have gone into a job at that time; a recall or the end of its stock since is no matter here. */
    Optional<String> blockedAt(Instant used, ZoneId zone) {
        if (recalledAt != null && !used.isBefore(recalledAt)) {
            return Optional.of("Lot " + number + " was recalled: " + recallReason + ".");
        }
        if (takenInAt != null && used.isBefore(takenInAt.minus(OccurredAt.CLOCKS_DIFFER))) {
            return Optional.of("Lot " + number + " was not in stock then.");
        }
        return old(used.atZone(zone).toLocalDate());
    }

    /** Why it must not go into a job on this day; empty where it may. */
    public Optional<String> blocked(LocalDate day) {
        if (recalledAt != null) {
            return Optional.of("Lot " + number + " was recalled: " + recallReason + ".");
        }
        if (retired) {
            return Optional.of("Lot " + number + " is out of use.");
        }
        return old(day);
    }

    /** When it may be used last: by its label, or by how long it has been open. */
    public @Nullable LocalDate usableUntil() {
        var open = openedOn == null || usableDays == null ? null : openedOn.plusDays(usableDays);
        return open == null || expiresOn != null && expiresOn.isBefore(open) ? expiresOn : open;
    }

    private Optional<String> old(LocalDate day) {
        if (openedOn != null && day.isBefore(openedOn)) {
            return Optional.of("Lot " + number + " was opened on " + openedOn + " only.");
        }
        if (expiresOn != null && expiresOn.isBefore(day)) {
            return Optional.of("Lot " + number + " expired on " + expiresOn + ".");
        }
        var until = usableUntil();
        return until != null && until.isBefore(day)
                ? Optional.of("Lot " + number + " has been open for more than " + usableDays + " days.")
                : Optional.empty();
    }
}
