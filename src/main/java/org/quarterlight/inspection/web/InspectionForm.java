package org.quarterlight.inspection.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamageState;
import org.quarterlight.damage.DamageView;
import org.quarterlight.damage.ObservationView;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.inspection.GoneAs;
import org.quarterlight.inspection.InspectionAnswer;
import org.quarterlight.inspection.RecordInspection;
import org.quarterlight.inspection.SeenAgain;
import org.quarterlight.kernel.Invalid;

/** What an inspector ticks and types while walking round a vehicle. */
class InspectionForm {
    @Valid
    List<Line> damages = new ArrayList<>();

    @NotNull(message = "Say how good the view through the glass is")
    @Nullable
    Grade grade;

    @Min(0)
    @Max(10_000_000)
    @Nullable
    Integer odometerKm;

    @Size(max = 1000)
    @Nullable
    String note;

    /** The depot whose yard is being walked through. */
    @Nullable
    UUID round;

    /** The inspection behind which the round goes on. */
    @Nullable
    UUID past;

    /** One known damage. */
    static class Line {
        @Nullable
        UUID damage;

        @Nullable
        InspectionAnswer answer;

        /** What is changed was told with a drawing of its own, during this inspection. */
        boolean drawnAnew;

        @DecimalMin(value = "0", inclusive = false)
        @DecimalMax("4000")
        @Nullable
        BigDecimal diameterMm;

        @DecimalMin("0")
        @DecimalMax("200")
        @Nullable
        BigDecimal pitMm;

        @DecimalMin("0")
        @DecimalMax("4000")
        @Nullable
        BigDecimal longestLegMm;

        @Nullable
        Layers layers;

        @Nullable
        Seen source;

        @Nullable
        GoneAs goneAs;

        @Size(max = 500)
        @Nullable
        String reason;

        @Nullable
        Grade found;

        static Line of(DamageView damage, boolean justReported, boolean drawnAnew) {
            var line = new Line();
            var seen = damage.observation();
            line.damage = damage.id();
            line.drawnAnew = drawnAnew;
            line.answer = justReported ? InspectionAnswer.NEW : drawnAnew ? InspectionAnswer.CHANGED : null;
            line.diameterMm = seen.diameterMm();
            line.pitMm = seen.pitMm();
            line.longestLegMm = seen.longestLegMm();
            line.layers = seen.layers();
            line.found = seen.found();
            return line;
        }

        private SeenAgain command(DamageView known, Seen usual) {
            var said = answer;
            if (said == InspectionAnswer.FAILED) {
                return new SeenAgain(known.id(), said, null, null, null, reason, null);
            }
            if (said == null) {
                throw new Invalid(
                        "damages", "Say of damage " + known.number() + " whether it is unchanged, changed or gone");
            }
            return new SeenAgain(
                    known.id(),
                    said,
                    null,
                    said == InspectionAnswer.CHANGED && !drawnAnew ? changed(known, usual) : null,
                    said == InspectionAnswer.GONE ? goneAs : null,
                    reason,
                    found);
        }

        private SeenDamage changed(DamageView known, Seen usual) {
            var before = known.observation();
            if (diameterMm == null) {
                throw new Invalid("damages", "Give the size of damage " + known.number() + " as it is now");
            }
            // One that has grown no longer runs as it was drawn, and a circle would say nothing of edges and crossings.
            if (before.hasLines() && !(before.stillRuns(diameterMm) && sameLength(before))) {
                throw new Invalid(
                        "damages",
                        "Damage " + known.number()
                                + " was drawn as it ran, and is of another length now: draw it anew");
            }
            return new SeenDamage(
                    before.xMm(),
                    before.yMm(),
                    before.toXMm(),
                    before.toYMm(),
                    diameterMm,
                    null,
                    pitMm,
                    longestLegMm,
                    layers,
                    before.condition(),
                    source == null ? usual : source,
                    found,
                    null,
                    before.course(),
                    before.legs(),
                    before.bodyMm(),
                    before.arisenOn());
        }

        /** Whether the length that is typed of a drawn crack or leg is the one from before, as far as anybody measures. */
        private boolean sameLength(ObservationView before) {
            var was = before.longestLegMm();
            if (longestLegMm == null || was == null) {
                return longestLegMm == null || before.course().isEmpty();
            }
            return longestLegMm.subtract(was).abs().doubleValue() <= before.sameWithinMm(was);
        }
    }

    /** @param known the open damages and finished repairs of the glass by their ids */
    RecordInspection command(Map<UUID, DamageView> known, Seen usual) {
        var answers = new ArrayList<SeenAgain>();
        for (var line : damages) {
            var damage = known.get(line.damage);
            var holds = damage != null && damage.state() == DamageState.CLOSED && line.answer == null;
            if (damage != null && !holds) {
                answers.add(line.command(damage, usual));
            }
        }
        return new RecordInspection(null, Objects.requireNonNull(grade), null, null, answers, null, odometerKm, note);
    }
}
