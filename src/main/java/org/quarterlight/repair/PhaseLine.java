package org.quarterlight.repair;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Locale;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.PhaseKind;

/** What is worth knowing of a phase besides its times, in words for paper. */
public final class PhaseLine {
    /** Told later than that it is said. Ours. */
    private static final Duration AT_ONCE = Duration.ofMinutes(2);

    /** mW s in J. */
    private static final double MILLI = 1000;

    private PhaseLine() {}

    /** Of a certificate, whatever it was signed with: older ones know less of their phases. */
    public static String of(JobPhase phase) {
        var said = new ArrayList<String>();
        var ended = phase.endedAt();
        if (phase.kind() == PhaseKind.CURE && ended != null) {
            said.add("cured " + minutes(Duration.between(phase.startedAt(), ended))
                    + (phase.requiredSeconds() == null
                            ? ""
                            : " of " + minutes(Duration.ofSeconds(phase.requiredSeconds())) + " asked"));
        }
        if (phase.lamp() != null) {
            said.add(phase.lamp()
                    + (phase.lampDistanceMm() == null
                            ? ""
                            : " at "
                                    + phase.lampDistanceMm()
                                            .stripTrailingZeros()
                                            .toPlainString() + " mm"));
        }
        var light = phase.cureLamp() == null ? null : phase.cureLamp().irradianceMwPerCm2();
        if (light != null) {
            said.add(String.format(Locale.ROOT, "%.1f mW/cm² on the glass", light)
                    + (ended == null
                            ? ""
                            : String.format(
                                    Locale.ROOT,
                                    ", %.1f J/cm²",
                                    light
                                            * Duration.between(phase.startedAt(), ended)
                                                    .toSeconds()
                                            / MILLI)));
        }
        if (phase.goggles()) {
            said.add("goggles on");
        }
        if (phase.reading() != null) {
            said.add(phase.reading());
        }
        if (phase.backReason() != null) {
            said.add("back: " + phase.backReason());
        }
        if (phase.deviceOffsetSeconds() != null) {
            said.add("measured without a network, clock " + ahead(phase.deviceOffsetSeconds()));
        }
        told(ended == null ? phase.startedAt() : ended, ended == null ? phase.arrivedAt() : phase.endArrivedAt(), said);
        if (!phase.note().isEmpty()) {
            said.add(phase.note());
        }
        return String.join(", ", said);
    }

    private static void told(Instant done, @Nullable Instant arrived, ArrayList<String> said) {
        var late = Duration.between(done, Objects.requireNonNullElse(arrived, done));
        if (late.compareTo(AT_ONCE) > 0) {
            said.add("told " + later(late) + " later");
        }
    }

    private static String later(Duration late) {
        return late.toMinutes() < 120
                ? late.toMinutes() + " min"
                : late.toHours() < 48 ? late.toHours() + " h" : late.toDays() + " days";
    }

    private static String ahead(int seconds) {
        return Math.abs(seconds) + " s " + (seconds < 0 ? "behind" : "ahead");
    }

    private static String minutes(Duration time) {
        return "%d:%02d".formatted(time.toMinutes(), time.toSecondsPart());
    }
}
