package org.quarterlight.damage;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.function.ToDoubleFunction;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.util.AffineTransformation;
import org.quarterlight.eligibility.DamageFacts;
import org.quarterlight.eligibility.GlassJudge;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Verdict;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.Measured;

/** What is to come of one damage, judged with its neighbours as it will be by then. */
final class GrowthAhead {
    private static final int DAYS_AHEAD = 365;
    /** No damage on a vehicle's glass is longer than is taken in. */
    private static final double LONGEST_MM = 4000;

    private final GlassJudge judge;
    private final DamageFacts now;
    private final List<DamageFacts> beside;
    private final LocalDate today;
    private final ZoneId zone;
    private final Instant judgedAt;
    private final double presentMm;

    /** @param onGlass everything that counts on the glass, this damage among it */
    GrowthAhead(GlassJudge judge, UUID damage, List<DamageFacts> onGlass, ZoneId zone, Instant judgedAt) {
        this.judge = judge;
        this.now = onGlass.stream()
                .filter(each -> each.damage().equals(damage))
                .findFirst()
                .orElseThrow();
        this.beside =
                onGlass.stream().filter(each -> !each.damage().equals(damage)).toList();
        this.today = LocalDate.ofInstant(judgedAt, zone);
        this.zone = zone;
        this.judgedAt = judgedAt;
        presentMm = length(now);
    }

    /** The first day on which it is judged worse, how long it is by then, and that judgement. */
    record Passing(LocalDate on, double mm, Verdict verdict) {}

    private Instant end(LocalDate day) {
        return day.plusDays(1).atTime(LocalTime.MIN).atZone(zone).toInstant();
    }

    /** The first day on which a damage so long is judged worse than now; looked for by halving, as larger is never better. */
    @Nullable
    Passing turn(ToDoubleFunction<Instant> mmAt) {
        ToDoubleFunction<LocalDate> mmOn = day -> mmAt.applyAsDouble(end(day));
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
        return new Passing(day, mm, then);
    }

    /**
     * The same where only growth to come counts: nothing where a damage so long as it may be today is judged worse
     * already, for that is the present verdict's matter.
     */
    @Nullable
    Passing turnByGrowth(ToDoubleFunction<Instant> mmAt) {
        var todayMm = mmAt.applyAsDouble(end(today));
        return isWorse(verdict(todayMm), verdict(presentMm)) ? null : turn(mmAt);
    }

    private Verdict verdict(double mm) {
        var all =
                new ArrayList<DamageFacts>(List.of(grown(Math.clamp(mm, presentMm, Math.max(presentMm, LONGEST_MM)))));
        all.addAll(beside);
        return Objects.requireNonNull(judge.judge(all, judgedAt).get(now.damage()));
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
                now.longestLeg() == null ? null : new Measured(now.longestLeg().mm() * times, 0),
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
