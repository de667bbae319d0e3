package org.quarterlight.fleet;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Collections;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A place where vehicles stand. Position in degrees (WGS 84), country ISO 3166-1 alpha-2, subdivision ISO 3166-2. */
public record DepotView(
        UUID id,
        String name,
        String address,
        BigDecimal latitude,
        BigDecimal longitude,
        ZoneId zone,
        String country,
        @Nullable String subdivision,
        OpeningHours openingHours,
        int coveredBays,
        String contact,
        Set<LocalDate> closedOn,
        boolean retired,
        int version) {
    public DepotView {
        closedOn = Collections.unmodifiableSortedSet(new TreeSet<>(closedOn));
    }

    /** Whether it is open at all on a day. */
    public boolean isOpenOn(LocalDate day) {
        return openingHours.days().containsKey(day.getDayOfWeek()) && !closedOn.contains(day);
    }
}
