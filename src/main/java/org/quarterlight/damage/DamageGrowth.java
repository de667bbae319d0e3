package org.quarterlight.damage;

import java.time.Clock;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Eligibility;
import org.quarterlight.eligibility.Growth;
import org.quarterlight.eligibility.Quantity;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.Glazing;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.tenancy.Tenants;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Follows a damage over time: its rate, and the day on which the rules would judge it worse. */
@Service
public class DamageGrowth {
    /** Less than this no gauge shows within a month. Ours. */
    private static final double LEAST_MM_PER_DAY = 0.01;

    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEE d MMMM", Locale.ENGLISH);

    private final DamageReporting reporting;
    private final DamageRepository damages;
    private final ObservationRepository observations;
    private final Fleet fleet;
    private final Rulebook rulebook;
    private final GrowthWatch watch;
    private final Clock clock;

    DamageGrowth(
            DamageReporting reporting,
            DamageRepository damages,
            ObservationRepository observations,
            Fleet fleet,
            Rulebook rulebook,
            GrowthWatch watch,
            Clock clock) {
        this.reporting = reporting;
        this.damages = damages;
        this.observations = observations;
        this.fleet = fleet;
        this.rulebook = rulebook;
        this.watch = watch;
        this.clock = clock;
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public GrowthView of(UUID id) {
        var damage = reporting.damage(id);
        var organisation = Tenants.require().value();
        var seen = observations.findByTenantIdAndDamageIdInOrderBySeenAtAscIdAsc(organisation, List.of(id));
        var crack = Trend.isCrack(seen);
        var trend = Trend.of(seen);
        GrowthWatch.Planned planned = null;
        GrowthView.Turn expected = null;
        GrowthView.Turn possible = null;
        if (damage.state() != DamageState.CLOSED) {
            var glazing = fleet.glazingOfWindscreen(damage.windscreen());
            var zone = glazing.depot().zone();
            planned = watch.planned(
                            damage.vehicle(), damage.job(), damage.actBy(), LocalDate.ofInstant(clock.instant(), zone))
                    .orElse(null);
            if (trend.isPresent()) {
                var ahead = ahead(damage, glazing);
                expected =
                        trend.get().growth().mmPerDay() > 0 ? turn(ahead.turn(trend.get()::expectedMm), planned) : null;
                possible = turn(ahead.turnByGrowth(trend.get()::possibleMm), planned);
            }
        }
        return new GrowthView(
                crack ? Quantity.CRACK_LENGTH : Quantity.OVERALL_DIAMETER,
                seen.stream().map(each -> Trend.reading(each, crack)).toList(),
                trend.map(each -> rate(each.growth())).orElse(null),
                GrowthView.METHOD,
                planned == null ? null : planned.on(),
                planned == null ? null : planned.by(),
                expected,
                possible,
                damage.state() == DamageState.CLOSED ? null : warning(expected, possible, planned, trend.orElse(null)));
    }

    private static GrowthView.Rate rate(Growth growth) {
        var half = growth.halfIntervalMmPerDay();
        return new GrowthView.Rate(
                7 * growth.mmPerDay(), 7 * (growth.mmPerDay() - half), 7 * (growth.mmPerDay() + half));
    }

    private static @Nullable String warning(
            GrowthView.@Nullable Turn expected,
            GrowthView.@Nullable Turn possible,
            GrowthWatch.@Nullable Planned planned,
            @Nullable Trend trend) {
        if (expected != null && expected.beforePlanned()) {
            return "At this rate it passes a limit on " + DAY.format(expected.on()) + before(planned) + ". Then: "
                    + expected.sentence();
        }
        if (possible == null || trend == null || !possible.beforePlanned()) {
            return null;
        }
        var grows = trend.growth().mmPerDay() > LEAST_MM_PER_DAY;
        return (grows
                        ? "At the highest rate that the readings allow it passes a limit on "
                        : "The readings show no growth but are too rough to rule it out: it could pass a limit on ")
                + DAY.format(possible.on()) + before(planned) + ". Measure again with a gauge. Past that limit: "
                + possible.sentence();
    }

    private static GrowthView.@Nullable Turn turn(
            GrowthAhead.@Nullable Passing passing, GrowthWatch.@Nullable Planned planned) {
        return passing == null
                ? null
                : new GrowthView.Turn(
                        passing.on(),
                        passing.mm(),
                        passing.verdict().outcome(),
                        passing.verdict().sentence(),
                        planned == null || !passing.on().isAfter(planned.on()));
    }

    private static String before(GrowthWatch.@Nullable Planned planned) {
        return planned == null
                ? ", and no day is planned for it"
                : ", not after " + DAY.format(planned.on()) + ", "
                        + planned.by().words();
    }

    private GrowthAhead ahead(DamageView damage, Glazing glazing) {
        var zone = glazing.depot().zone();
        var organisation = Tenants.require().value();
        var counts = damages.findByTenantIdAndWindscreenIdOrderByNumber(organisation, damage.windscreen()).stream()
                .filter(each -> each.state() != DamageState.CLOSED || each.closedAs() == ClosedAs.REPAIRED)
                .collect(Collectors.toMap(Damage::id, each -> each.closedAs() == ClosedAs.REPAIRED));
        var onGlass = observations.newest(organisation, counts.keySet()).stream()
                .map(each -> each.facts(Boolean.TRUE.equals(counts.get(each.damage())), zone))
                .toList();
        var sheets = rulebook.sheetsFor(
                glazing.facts().vehicle(),
                glazing.depot().country(),
                glazing.depot().subdivision());
        return new GrowthAhead(
                Eligibility.on(glazing.facts(), sheets, rulebook.choices()),
                damage.id(),
                onGlass,
                zone,
                clock.instant());
    }
}
