package org.quarterlight.web;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.stereotype.Component;

/**
 * Which day it is where the present organisation is. In the evening of the west or the morning of the east the day of
 * Greenwich is another one.
 */
@Component
public class Today {
    private final ObjectProvider<HomeZone> zones;
    private final Clock clock;
    private final Cache<TenantId, ZoneId> known = Caffeine.newBuilder()
            .maximumSize(10_000)
            .expireAfterWrite(Duration.ofMinutes(2))
            .build();

    Today(ObjectProvider<HomeZone> zones, Clock clock) {
        this.zones = zones;
        this.clock = clock;
    }

    public LocalDate here() {
        return LocalDate.now(clock.withZone(zone()));
    }

    /** When a day begins here. */
    public @Nullable Instant begins(@Nullable LocalDate day) {
        return day == null ? null : day.atStartOfDay(zone()).toInstant();
    }

    /** Where the organisation is. */
    ZoneId zone() {
        return Tenants.current()
                .map(organisation -> known.get(organisation, absent -> asked()))
                .orElse(ZoneOffset.UTC);
    }

    private ZoneId asked() {
        return zones.orderedStream()
                .map(HomeZone::homeZone)
                .flatMap(Optional::stream)
                .findFirst()
                .orElse(ZoneOffset.UTC);
    }
}
