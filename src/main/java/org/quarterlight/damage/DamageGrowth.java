package org.quarterlight.damage;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.util.AffineTransformation;
import org.quarterlight.eligibility.DamageFacts;
import org.quarterlight.eligibility.Eligibility;
import org.quarterlight.eligibility.GlassJudge;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Growth;
import org.quarterlight.eligibility.Quantity;
import org.quarterlight.eligibility.Verdict;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.Measured;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.tenancy.Tenants;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Follows a damage over time: its rate, and the day on which the rules would judge it worse. */
@Service
public class DamageGrowth {
    private static final int DAYS_AHEAD = 365;
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEE d MMMM", Locale.ENGLISH);

    private final DamageReporting reporting;
    private final DamageRepository damages;
    private final ObservationRepository observations;
    private final Fleet fleet;
    private final Rulebook rulebook;
    private final PlannedDays plannedDays;
    private final Clock clock;

    DamageGrowth(
            DamageReporting reporting,
            DamageRepository damages,
            ObservationRepository observations,
            Fleet fleet,
            Rulebook rulebook,
            PlannedDays plannedDays,
            Clock clock) {
        this.reporting = reporting;
        this.damages = damages;
        this.observations = observations;
        this.fleet = fleet;
        this.rulebook = rulebook;
        this.plannedDays = plannedDays;
        this.clock = clock;
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public GrowthView of(UUID id) {
        var damage = reporting.damage(id);
        var organisation = Tenants.require().value();
        var seen = observations.findByTenantIdAndDamageIdOrderBySeenAtDescIdDesc(organisation, id).stream()
                .sorted(Comparator.comparing(Observation::seenAt).thenComparing(Observation::id))
                .toList();
        var crack = damage.kind() == DamageKind.CRACK;
        var readings = seen.stream().map(each -> reading(each, crack)).toList();
        var growth = Growth.of(readings.stream()
                .map(each -> new Growth.Length(each.seenAt(), new Measured(each.mm(), each.standardUncertaintyMm())))
                .toList());
        var open = damage.state() != DamageState.CLOSED;
        var byJob = open && damage.job() != null ? plannedDays.of(damage.job()) : Optional.<LocalDate>empty();
        var planned = open ? byJob.orElse(damage.actBy()) : null;
        GrowthView.Turn expected = null;
        GrowthView.Turn possible = null;
        if (growth.isPresent() && planned != null) {
            var ahead = ahead(damage, seen.getLast(), planned);
            expected = ahead.turn(day -> growth.get().mmAt(ahead.end(day)));
            possible = ahead.turn(day -> {
                var at = ahead.end(day);
                return growth.get().mmAt(at) + growth.get().halfIntervalMmAt(at);
            });
        }
        return new GrowthView(
                crack ? Quantity.CRACK_LENGTH : Quantity.OVERALL_DIAMETER,
                readings,
                growth.map(DamageGrowth::rate).orElse(null),
                GrowthView.METHOD,
                planned,
                byJob.isPresent(),
                expected,
                possible,
                warning(expected, possible, planned));
    }

    /** No damage on a vehicle's glass is longer than is taken in. */
    private static final double LONGEST_MM = 4000;

    private static GrowthView.Reading reading(Observation seen, boolean crack) {
        var facts = seen.facts(false, ZoneId.of("UTC"));
        var length = crack
                ? Objects.requireNonNullElse(facts.longestLeg(), facts.overallDiameter())
                : facts.overallDiameter();
        return new GrowthView.Reading(seen.id(), seen.seenAt(), length.mm(), length.standardUncertaintyMm());
    }

    private static GrowthView.Rate rate(Growth growth) {
        var half = growth.halfIntervalMmPerDay();
        return new GrowthView.Rate(
                7 * growth.mmPerDay(), 7 * (growth.mmPerDay() - half), 7 * (growth.mmPerDay() + half));
    }

    private static @Nullable String warning(
            GrowthView.@Nullable Turn expected, GrowthView.@Nullable Turn possible, @Nullable LocalDate planned) {
        var turn = expected != null && expected.beforePlanned() ? expected : possible;
        if (turn == null || !turn.beforePlanned() || planned == null) {
            return null;
        }
        return (turn == expected ? "At this rate it passes a limit on " : "It may pass a limit as early as ")
                + DAY.format(turn.on()) + ", before " + DAY.format(planned) + ", the day that is planned. Then: "
                + turn.sentence();
    }

    private Ahead ahead(DamageView damage, Observation newest, LocalDate planned) {
        var glazing = fleet.glazingOfWindscreen(damage.windscreen());
        var zone = glazing.depot().zone();
        var organisation = Tenants.require().value();
        var others = damages.findByTenantIdAndWindscreenIdOrderByNumber(organisation, damage.windscreen()).stream()
                .filter(each -> !each.id().equals(damage.id()))
                .filter(each -> each.state() != DamageState.CLOSED || each.closedAs() == ClosedAs.REPAIRED)
                .collect(Collectors.toMap(Damage::id, each -> each.closedAs() == ClosedAs.REPAIRED));
        var beside = others.isEmpty()
                ? List.<DamageFacts>of()
                : observations.newest(organisation, others.keySet()).stream()
                        .map(each -> each.facts(Boolean.TRUE.equals(others.get(each.damage())), zone))
                        .toList();
        var sheets = rulebook.sheetsFor(
                glazing.facts().vehicle(),
                glazing.depot().country(),
                glazing.depot().subdivision());
        return new Ahead(
                Eligibility.on(glazing.facts(), sheets, rulebook.choices()),
                newest.facts(false, zone),
                beside,
                LocalDate.ofInstant(clock.instant(), zone),
                zone,
                planned);
    }

    /** What is to come, judged as the damage will be by then. */
    private final class Ahead {
        private final GlassJudge judge;
        private final DamageFacts now;
        private final List<DamageFacts> beside;
        private final LocalDate today;
        private final ZoneId zone;
        private final LocalDate planned;
        private final double presentMm;

        Ahead(
                GlassJudge judge,
                DamageFacts now,
                List<DamageFacts> beside,
                LocalDate today,
                ZoneId zone,
                LocalDate planned) {
            this.judge = judge;
            this.now = now;
            this.beside = beside;
            this.today = today;
            this.zone = zone;
            this.planned = planned;
            presentMm = length(now);
        }

        Instant end(LocalDate day) {
            return day.plusDays(1).atTime(LocalTime.MIN).atZone(zone).toInstant();
        }

        /** The first day on which a damage so long is judged worse than now; looked for by halving, as larger is never better. */
        GrowthView.@Nullable Turn turn(ToDoubleFunction<LocalDate> mmOn) {
            var present = verdict(presentMm);
            var last = today.plusDays(DAYS_AHEAD);
            if (!isWorse(verdict(mmOn.applyAsDouble(last)), present)) {
                return null;
            }
            var low = -1;
            var high = DAYS_AHEAD;
            while (high - low > 1) {
                var middle = (low + high) / 2;
                if (isWorse(verdict(mmOn.applyAsDouble(today.plusDays(middle))), present)) {
                    high = middle;
                } else {
                    low = middle;
                }
            }
            var day = today.plusDays(high);
            var mm = mmOn.applyAsDouble(day);
            var then = verdict(mm);
            return new GrowthView.Turn(day, mm, then.outcome(), then.sentence(), !day.isAfter(planned));
        }

        private Verdict verdict(double mm) {
            var all = new ArrayList<DamageFacts>(
                    List.of(grown(Math.clamp(mm, presentMm, Math.max(presentMm, LONGEST_MM)))));
            all.addAll(beside);
            return Objects.requireNonNull(judge.judge(all, clock.instant()).get(now.damage()));
        }

        private static boolean isWorse(Verdict then, Verdict now) {
            return then.outcome().compareTo(now.outcome()) < 0
                    || grade(then).compareTo(grade(now)) > 0
                    || then.answers()
                                    .repairable()
                                    .result()
                                    .compareTo(now.answers().repairable().result())
                            > 0;
        }

        private static Grade grade(Verdict verdict) {
            return Objects.requireNonNullElse(verdict.answers().roadworthy().grade(), Grade.NONE);
        }

        private static double length(DamageFacts facts) {
            return facts.kind() == DamageKind.CRACK && facts.longestLeg() != null
                    ? facts.longestLeg().mm()
                    : facts.overallDiameter().mm();
        }

        /** As long as said for certain, in the shape it has, about its impact where that is known. */
        private DamageFacts grown(double mm) {
            var times = presentMm == 0 ? 1 : mm / presentMm;
            return new DamageFacts(
                    now.damage(),
                    now.observation(),
                    now.kind(),
                    scaled(now.shape(), times),
                    now.positionStandardUncertaintyMm(),
                    new Measured(now.overallDiameter().mm() * times, 0),
                    now.pit(),
                    now.longestLeg() == null
                            ? null
                            : new Measured(now.longestLeg().mm() * times, 0),
                    now.layers(),
                    now.condition(),
                    false,
                    now.found(),
                    now.seenOn(),
                    now.arisenOn(),
                    now.body());
        }

        private static DamageShape scaled(DamageShape shape, double times) {
            var lines = shape.lines();
            var from = shape.impact();
            return new DamageShape(
                    from.x + (shape.xMm() - from.x) * times,
                    from.y + (shape.yMm() - from.y) * times,
                    shape.diameterMm() * times,
                    lines == null
                            ? null
                            : AffineTransformation.scaleInstance(times, times, from.x, from.y)
                                    .transform(lines));
        }
    }
}
