package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/** Where a limit comes from, and how well that is known. */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record Source(
        String document,
        @Nullable String edition,
        @Nullable String section,
        Status status,
        @Nullable LocalDate checkedOn) {}
