package org.quarterlight.fleet.web;

import jakarta.validation.constraints.NotNull;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.PatternView;
import org.quarterlight.fleet.SavePattern;

/** What a tape told of a windscreen, as it is typed. */
class GlassPatternForm extends GlassForm {
    @NotNull(message = MISSING)
    @Nullable
    Double lowerWidthMm;

    @NotNull(message = MISSING)
    @Nullable
    Double upperWidthMm;

    @NotNull(message = MISSING)
    @Nullable
    Double heightMm;

    @NotNull(message = MISSING)
    @Nullable
    Double lowerBowMm;

    @NotNull(message = MISSING)
    @Nullable
    Double upperBowMm;

    @NotNull(message = MISSING)
    @Nullable
    Double cornerRadiusMm;

    void fill(PatternView pattern) {
        var measured = pattern.measurements();
        fillBesides(pattern);
        lowerWidthMm = measured.lowerWidthMm();
        upperWidthMm = measured.upperWidthMm();
        heightMm = measured.heightMm();
        lowerBowMm = measured.lowerBowMm();
        upperBowMm = measured.upperBowMm();
        cornerRadiusMm = measured.cornerRadiusMm();
    }

    SavePattern command() {
        return new SavePattern(
                Objects.requireNonNull(name),
                measured(
                        length(lowerWidthMm),
                        length(upperWidthMm),
                        length(heightMm),
                        length(lowerBowMm),
                        length(upperBowMm),
                        length(cornerRadiusMm),
                        null),
                null,
                null);
    }
}
