package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Where a limit comes from, how well that is known, and what other readings of it say; null where sources agree.
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record Source(
        String document,
        @Nullable String edition,
        @Nullable String section,
        Status status,
        @Nullable LocalDate checkedOn,
        @Nullable List<OtherReading> conflictsWith) {
    public Source {
        conflictsWith = conflictsWith == null ? null : List.copyOf(conflictsWith);
    }
}
