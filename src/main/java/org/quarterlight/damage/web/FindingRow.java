package org.quarterlight.damage.web;

import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Bound;
import org.quarterlight.eligibility.Finding;
import org.quarterlight.eligibility.OtherReading;
import org.quarterlight.eligibility.Result;
import org.quarterlight.eligibility.Source;
import org.quarterlight.eligibility.Status;
import org.quarterlight.glass.Measured;
import org.quarterlight.web.MarginRule;

/** A finding as a row of the page: everything rounded and in words. */
record FindingRow(
        String rule,
        String measured,
        String limit,
        String margin,
        @Nullable MarginRule onRule,
        @Nullable Double conformity,
        String result,
        @Nullable String counts,
        boolean near,
        String sheet,
        @Nullable String sheetId,
        int sheetVersion,
        String source,
        String standing) {
    private static final Set<Bound> WITH_RULE = Set.of(Bound.AT_MOST, Bound.LESS_THAN, Bound.AT_LEAST, Bound.MORE_THAN);

    static FindingRow of(Finding finding) {
        var measuredMm = finding.measuredMm();
        var doubtMm = finding.standardUncertaintyMm();
        var limitMm = finding.limitMm();
        var marginMm = finding.marginMm();
        return new FindingRow(
                words(finding.rule()),
                measuredMm != null && doubtMm != null
                        ? new Measured(measuredMm, doubtMm).text()
                        : finding.seen() == null
                                ? "not measured"
                                : words(finding.seen()).toLowerCase(Locale.ROOT),
                limitMm != null
                        ? bound(finding.bound()) + " " + plain(limitMm)
                        : finding.allowed() == null
                                ? ""
                                : finding.allowed().stream()
                                        .map(word -> word.replace('-', ' '))
                                        .collect(Collectors.joining(" or ")),
                marginMm == null ? "–" : new Measured(marginMm, 0).text(),
                onRule(finding),
                finding.conformity(),
                finding.result().word(),
                counts(finding),
                finding.nearLimit(),
                finding.sheet() == null ? "" : finding.sheet().name(),
                finding.sheet() == null ? null : finding.sheet().id(),
                finding.sheet() == null ? 0 : finding.sheet().version(),
                source(finding.source()),
                standing(finding.source()));
    }

    /** What a broken rule means for the road: not every one forbids driving. */
    private static @Nullable String counts(Finding finding) {
        var grade = finding.ifBroken();
        return grade == null || finding.result() == Result.YES
                ? null
                : finding.result() == Result.NO ? "counts as " + grade.word() : "would count as " + grade.word();
    }

    private static @Nullable MarginRule onRule(Finding finding) {
        var measuredMm = finding.measuredMm();
        var doubtMm = finding.standardUncertaintyMm();
        var limitMm = finding.limitMm();
        if (measuredMm == null || doubtMm == null || limitMm == null || !WITH_RULE.contains(finding.bound())) {
            return null;
        }
        return MarginRule.of(
                measuredMm,
                doubtMm,
                finding.bound().word(),
                limitMm,
                finding.result().word());
    }

    private static String words(String word) {
        var text = word.replace('-', ' ').replace("drivers zone", "driver's zone");
        return text.substring(0, 1).toUpperCase(Locale.ROOT) + text.substring(1);
    }

    private static String bound(Bound bound) {
        return bound.word().replace('-', ' ');
    }

    private static String plain(double value) {
        return java.math.BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
    }

    private static String source(Source source) {
        return source.document()
                + (source.edition() == null ? "" : ", " + source.edition())
                + (source.section() == null ? "" : ", " + source.section());
    }

    private static String standing(Source source) {
        var others = source.conflictsWith();
        return standing(source.status())
                + (others == null
                        ? ""
                        : "; sources disagree: another reading says "
                                + others.stream()
                                        .map(OtherReading::says)
                                        .distinct()
                                        .collect(Collectors.joining("; another ")));
    }

    private static String standing(Status status) {
        return switch (status) {
            case SEEN -> "read in the published text";
            case SECONDARY -> "read second-hand, not in the standard itself";
            case MEMORY -> "recalled, not checked against the published text";
            case COMPUTED -> "computed";
            case COMMON_PRACTICE -> "common practice, not a published limit";
        };
    }
}
