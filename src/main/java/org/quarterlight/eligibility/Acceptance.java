package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.util.List;

/**
 * Whether a finished repair is good enough, and why.
 *
 * @param measure where that is unclear: what would settle it, the length that decides first
 */
public record Acceptance(
        Answer answer,
        String sentence,
        List<Finding> findings,
        @JsonInclude(JsonInclude.Include.NON_EMPTY) List<Measure> measure) {
    @SuppressWarnings("NullAway") // left out where there is nothing to measure
    public Acceptance {
        findings = List.copyOf(findings);
        measure = measure == null ? List.of() : List.copyOf(measure);
    }
}
