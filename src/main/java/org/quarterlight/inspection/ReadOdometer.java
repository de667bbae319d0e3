package org.quarterlight.inspection;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/** Somebody read an odometer; today, if nobody says when. */
public record ReadOdometer(
        @NotNull @Min(0) @Max(10_000_000) Integer km,
        @Nullable LocalDate readOn) {}
