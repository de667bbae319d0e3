package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * What is to be done about one damage, by when, and why: the answers and every finding behind them. It supports the
 * judgement of a competent person and does not replace it; local law decides. {@code measure} is there where the outcome is
 * measure again: what would settle it, the length that decides first.
 */
public record Verdict(
        Outcome outcome,
        LocalDate by,
        String sentence,
        Answers answers,
        List<Finding> findings,
        Instant judgedAt,
        JudgedFrom judgedFrom,
        @JsonInclude(JsonInclude.Include.NON_NULL) @Nullable List<Measure> measure) {
    public Verdict {
        findings = List.copyOf(findings);
        measure = measure == null || measure.isEmpty() ? null : List.copyOf(measure);
    }

    /** The vehicle may only be driven to be put right, so this repair comes before others. */
    public boolean firstInLine() {
        return outcome == Outcome.REPAIR && answers.roadworthy().worstPossible().compareTo(Grade.MAJOR) >= 0;
    }

    /** The limit that is kept by the least, where one is close; the page says so. */
    public Optional<Finding> nearestLimit() {
        return findings.stream().filter(Finding::nearLimit).min(Comparator.comparingDouble(Verdict::margin));
    }

    private static double margin(Finding finding) {
        return finding.marginMm() == null ? Double.MAX_VALUE : finding.marginMm();
    }
}
