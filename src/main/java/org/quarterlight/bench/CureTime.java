package org.quarterlight.bench;

import java.time.Duration;
import org.jspecify.annotations.Nullable;

/** How long resin lies under the lamp, or why it may not be cured like that. */
public sealed interface CureTime {
    /** What light the laminate lets through: windscreens block 96 % of UV-A (JAMA Ophthalmol. 2016;134(7):772–775; seen). */
    double BLOCKED_BY_LAMINATE = 0.96;

    /** A dose says how much light fell on the resin, not how far it has hardened. */
    String DOSE_IS_NOT_CURE =
            "The dose alone does not guarantee that it is cured: that depends on resin, irradiance and temperature"
                    + " too.";

    /**
     * At least this long.
     *
     * @param byDose the dose asks for more than the method's least time
     */
    record AtLeast(Duration time, boolean byDose, String note) implements CureTime {}

    /** Not like that. */
    record Refused(String reason) implements CureTime {}

    /** From which side the lamp shines. */
    enum Side {
        OUTSIDE,
        INSIDE
    }

    /**
     * The larger of the method's least time and its dose over the lamp's irradiance at that distance.
     *
     * @param doseJPerCm2 of the resin's data sheet; null where it only gives a time
     */
    static CureTime of(
            Duration least, @Nullable Double doseJPerCm2, @Nullable LampReading lamp, double distanceMm, Side side) {
        if (side == Side.INSIDE) {
            return new Refused("Cured from inside, about " + Math.round(BLOCKED_BY_LAMINATE * 100)
                    + " % of the ultraviolet light stays in the laminate. Put the lamp outside.");
        }
        if (doseJPerCm2 == null) {
            return new AtLeast(least, false, "");
        }
        if (lamp == null) {
            return new Refused("This method asks for a dose, so a lamp that was measured has to be named.");
        }
        var seconds = doseJPerCm2 * 1000 / lamp.irradianceMwPerCm2At(distanceMm);
        var byDose = Duration.ofSeconds((long) Math.ceil(seconds - 1e-9));
        return byDose.compareTo(least) > 0
                ? new AtLeast(byDose, true, DOSE_IS_NOT_CURE)
                : new AtLeast(least, false, DOSE_IS_NOT_CURE);
    }
}
