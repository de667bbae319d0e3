package org.quarterlight.repair;

import java.math.BigDecimal;
import java.util.Locale;
import java.util.stream.Collectors;
import org.quarterlight.eligibility.Finding;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Result;
import org.quarterlight.eligibility.Source;
import org.quarterlight.eligibility.Status;
import org.quarterlight.glass.Measured;

/** A finding as a line of a page or of a certificate: rounded, in words, lengths with their unit. */
public record FindingLine(
        String asks, String rule, String reading, String limit, String margin, String answer, String source) {
    static FindingLine of(Finding finding) {
        var measured = finding.measuredMm();
        var doubt = finding.standardUncertaintyMm();
        var limit = finding.limitMm();
        var margin = finding.marginMm();
        return new FindingLine(
                asks(finding.question()),
                words(finding.rule()),
                measured != null && doubt != null
                        ? new Measured(measured, doubt).text() + " mm"
                        : finding.seen() == null
                                ? "not looked at"
                                : finding.seen().replace('-', ' '),
                limit != null
                        ? finding.bound().word().replace('-', ' ') + " " + plain(limit) + " mm"
                        : finding.allowed() == null
                                ? ""
                                : finding.allowed().stream()
                                        .map(word -> word.replace('-', ' '))
                                        .collect(Collectors.joining(" or ")),
                margin == null ? "" : new Measured(margin, 0).text() + " mm",
                answer(finding),
                source(finding));
    }

    /** All in one. */
    public String text() {
        return rule + ": " + reading + (limit.isEmpty() ? "" : ", " + limit)
                + (margin.isEmpty() ? "" : ", margin " + margin) + ": " + answer + " (" + source + ")";
    }

    private static String asks(Question question) {
        return switch (question) {
            case ROADWORTHY -> "On the road";
            case REPAIRABLE -> "Repairable";
            case AS_REPAIRED -> "Once repaired";
            case ACCEPTABLE -> "Finished repair";
        };
    }

    private static String answer(Finding finding) {
        var said = finding.result() == Result.YES ? "kept" : finding.result() == Result.NO ? "broken" : "unclear";
        return finding.ifBroken() == null || finding.result() == Result.YES
                ? said
                : said + ", " + finding.ifBroken().word();
    }

    private static String plain(double value) {
        return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
    }

    private static String words(String word) {
        var text = word.replace('-', ' ').replace("drivers zone", "driver's zone");
        return text.substring(0, 1).toUpperCase(Locale.ROOT) + text.substring(1);
    }

    private static String source(Finding finding) {
        Source source = finding.source();
        return source.document()
                + (source.section() == null ? "" : ", " + source.section())
                + standing(source.status());
    }

    private static String standing(Status status) {
        return switch (status) {
            case SEEN -> "";
            case SECONDARY -> "; read second-hand";
            case MEMORY -> "; recalled, not checked";
            case COMPUTED -> "; computed";
            case COMMON_PRACTICE -> "; no published limit";
        };
    }
}
