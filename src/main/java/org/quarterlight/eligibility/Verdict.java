package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
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
    private static final Comparator<Finding> LOUDEST_LAST = Comparator.comparing((Finding finding) ->
                    finding.result() == Result.YES || finding.ifBroken() == null ? Grade.NONE : finding.ifBroken())
            .thenComparing(Finding::result)
            .thenComparing(Comparator.comparingDouble(
                            (Finding finding) -> finding.conformity() == null ? 1 : finding.conformity())
                    .reversed())
            .thenComparing(Comparator.comparingDouble(Verdict::margin).reversed());

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

    /**
     * The same after somebody tried to repair it and could not: their finding stands beside those of the sheets, and new
     * glass is what is left. What must not be driven stays so.
     */
    public Verdict repairAbandoned(String why, LocalDate on, Choices choices) {
        var finding = new Finding(
                Question.REPAIRABLE,
                "repair-abandoned",
                Quantity.VIEW,
                null,
                null,
                null,
                Bound.ONE_OF,
                null,
                null,
                why,
                null,
                null,
                Result.NO,
                null,
                null,
                null,
                new Source("whoever tried to repair it", null, null, Status.SEEN, on, null));
        var all = Stream.concat(Stream.of(finding), findings.stream()).toList();
        var said = new Answers(answers.roadworthy(), Answer.of(Result.NO), answers.asRepaired(), answers.acceptable());
        if (outcome == Outcome.STAND_DOWN) {
            return new Verdict(outcome, by, sentence, said, all, judgedAt, judgedFrom, null);
        }
        var due = on.plusDays(choices.days(Outcome.REPLACE));
        return new Verdict(
                Outcome.REPLACE,
                due.isBefore(by) ? due : by,
                "It cannot be repaired: " + why + "."
                        + (sentence.endsWith(Sentences.STANDS_DOWN) ? Sentences.STANDS_DOWN : ""),
                said,
                all,
                judgedAt,
                judgedFrom,
                null);
    }

    /** The same once it is repaired: with what the look over found. */
    public Verdict looked(Acceptance acceptance, Instant at) {
        var sheets = new LinkedHashSet<>(judgedFrom.sheets());
        acceptance.findings().stream()
                .map(Finding::sheet)
                .filter(Objects::nonNull)
                .forEach(sheets::add);
        return new Verdict(
                outcome,
                by,
                "Repaired. " + acceptance.sentence(),
                new Answers(answers.roadworthy(), answers.repairable(), answers.asRepaired(), acceptance.answer()),
                Stream.concat(findings.stream(), acceptance.findings().stream()).toList(),
                at,
                new JudgedFrom(judgedFrom.observation(), judgedFrom.pattern(), List.copyOf(sheets)),
                null);
    }

    /** Of each question the finding that speaks loudest: the worst answer, then the limit that is kept by the least. */
    public List<Finding> decisive() {
        var loudest = new EnumMap<Question, Finding>(Question.class);
        findings.forEach(finding -> loudest.merge(finding.question(), finding, Verdict::louder));
        return List.copyOf(loudest.values());
    }

    private static Finding louder(Finding one, Finding other) {
        return LOUDEST_LAST.compare(one, other) >= 0 ? one : other;
    }

    private static double margin(Finding finding) {
        return finding.marginMm() == null ? Double.MAX_VALUE : finding.marginMm();
    }
}
