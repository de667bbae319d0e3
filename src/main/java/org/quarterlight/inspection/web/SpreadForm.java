package org.quarterlight.inspection.web;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.inspection.SpreadInspections;
import org.springframework.format.annotation.DateTimeFormat;

/** Where and when inspections are to be spread. */
class SpreadForm {
    @NotNull(message = "Choose a depot")
    @Nullable
    UUID depot;

    @NotNull(message = "Give the first day")
    @DateTimeFormat(iso = DateTimeFormat.ISO.DATE)
    @Nullable
    LocalDate from;

    @NotNull(message = "Give the last day")
    @DateTimeFormat(iso = DateTimeFormat.ISO.DATE)
    @Nullable
    LocalDate to;

    @NotNull(message = "Say how many can be done on a day")
    @Min(value = 1, message = "At least 1")
    @Max(value = 500, message = "At most 500")
    @Nullable
    Integer mostPerDay;

    boolean again;

    SpreadInspections command(boolean keep) {
        return new SpreadInspections(
                Objects.requireNonNull(depot),
                Objects.requireNonNull(from),
                Objects.requireNonNull(to),
                Objects.requireNonNull(mostPerDay),
                again,
                keep);
    }
}
