package org.quarterlight.repair;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotEmpty;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.Method;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.kernel.Invalid;

/** A method as its data sheet gives it: its phases in their order, where a kind may come again after another. */
public record SaveMethod(
        @NotBlank @Size(max = 120) String name,
        @NotBlank @Size(max = 120) String resin,
        @NotBlank @Size(max = 200) String source,
        @DecimalMin("-40") @DecimalMax("90") @Nullable BigDecimal leastGlassCelsius,
        @DecimalMin("-40") @DecimalMax("90") @Nullable BigDecimal mostGlassCelsius,
        @DecimalMin("1") @DecimalMax("100") @Nullable BigDecimal mostHumidityPercent,
        @DecimalMin("0.001") @DecimalMax("1000") @Nullable BigDecimal cureDoseJPerCm2,
        @Min(0) @Max(20) @Nullable Integer leastCycles,
        @Min(0) @Max(3600) @Nullable Integer restSeconds,
        @Nullable Boolean overlaps,
        @NotEmpty @Size(max = SaveMethod.MOST_STEPS) List<@NotNull @Valid SaveStep> steps) {
    public static final int MOST_STEPS = 24;

    /** One phase. Without least seconds it takes as long as it takes; without most it may take longer. */
    public record SaveStep(
            @NotNull PhaseKind kind,
            @Nullable Boolean required,
            @Min(0) @Max(86_400) @Nullable Integer leastSeconds,
            @Min(1) @Max(86_400) @Nullable Integer mostSeconds) {
        Method.Step step() {
            return new Method.Step(
                    kind, !Boolean.FALSE.equals(required), Objects.requireNonNullElse(leastSeconds, 0), mostSeconds);
        }
    }

    Method method() {
        if (leastGlassCelsius != null
                && mostGlassCelsius != null
                && mostGlassCelsius.compareTo(leastGlassCelsius) < 0) {
            throw new Invalid("mostGlassCelsius", "Not lower than the lowest");
        }
        var kinds = steps.stream().map(SaveStep::kind).toList();
        for (int i = 1; i < kinds.size(); i++) {
            if (kinds.get(i) == kinds.get(i - 1)) {
                throw new Invalid(
                        "steps", "The same phase stands twice in a row; in the work it may be repeated all the same");
            }
        }
        if (!kinds.contains(PhaseKind.INJECT) || !kinds.contains(PhaseKind.CURE)) {
            throw new Invalid("steps", "A method has at least inject and cure");
        }
        for (var step : steps) {
            if (step.mostSeconds() != null && step.mostSeconds() < Objects.requireNonNullElse(step.leastSeconds(), 0)) {
                throw new Invalid("steps", "The longest time of a phase is shorter than its least");
            }
        }
        return new Method(
                name.trim(),
                resin.trim(),
                source.trim(),
                false,
                new Method.Limits(number(leastGlassCelsius), number(mostGlassCelsius), number(mostHumidityPercent)),
                number(cureDoseJPerCm2),
                Objects.requireNonNullElse(leastCycles, 0),
                Objects.requireNonNullElse(restSeconds, 0),
                Boolean.TRUE.equals(overlaps),
                steps.stream().map(SaveStep::step).toList());
    }

    /** What would have to be saved to get this method. */
    public static SaveMethod of(Method method) {
        var limits = method.limits();
        return new SaveMethod(
                method.name(),
                method.resin(),
                method.source(),
                decimal(limits.leastGlassCelsius()),
                decimal(limits.mostGlassCelsius()),
                decimal(limits.mostHumidityPercent()),
                decimal(method.cureDoseJPerCm2()),
                method.leastCycles(),
                method.restSeconds(),
                method.overlaps(),
                method.steps().stream()
                        .map(step ->
                                new SaveStep(step.kind(), step.required(), step.leastSeconds(), step.mostSeconds()))
                        .toList());
    }

    private static @Nullable Double number(@Nullable BigDecimal value) {
        return value == null ? null : value.doubleValue();
    }

    private static @Nullable BigDecimal decimal(@Nullable Double value) {
        return value == null ? null : BigDecimal.valueOf(value).stripTrailingZeros();
    }
}
