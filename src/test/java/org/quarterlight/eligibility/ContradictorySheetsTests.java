package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Sheets that no damage could keep, or whose rules could never speak, and their nearest neighbours that make sense. */
class ContradictorySheetsTests {
    private static final String ZONES = """
        "drivers-zone": [{ "band": { "widthMm": 290, "within": "swept-area" } }],
        "rest": [{ "without": { "from": "swept-area", "zones": ["drivers-zone"] } }],
        "far": [{ "strip": { "side": "passenger", "widthMm": 100, "within": "whole-glass" } }],
        "both": [{ "union": ["drivers-zone", "rest"] }],
        "buses-only": [{ "vehicles": [{ "categories": ["M3"] }], "band": { "widthMm": 500, "within": "swept-area" } }],\
        """;

    /** Line 1 opens, each zone and each rule has a line of its own; rules begin in line 10. */
    private static String sheet(String question, String zones, List<String> rules) {
        return """
            { "id": "own", "name": "Own", "version": 1, "question": "%s", "validFrom": "2026-01-01",
            "vehicles": [{ "categories": ["M1", "M2", "M3", "N1", "N2"] }],
            "zones": {
            %s
            "spare": [{ "half": { "side": "driver", "within": "whole-glass" } }] },
            "rules": [
            %s
            ] }
            """.formatted(question, zones, rules.stream().collect(Collectors.joining(",\n")));
    }

    private static String rule(int number, String said) {
        return """
            { "rule": "r-%d", %s, "ifBroken": "no", "source": { "document": "d", "status": "memory" }%s }\
            """.formatted(
                        number,
                        said.replace('\'', '"'),
                        said.contains("countsFinishedRepairs") ? "" : ", \"countsFinishedRepairs\": false");
    }

    private record Case(String question, String zones, List<String> rules, int line, String field, String message) {
        @Override
        public String toString() {
            return String.join(" beside ", rules);
        }

        String text() {
            var all = new ArrayList<String>();
            for (var i = 0; i < rules.size(); i++) {
                all.add(rule(i, rules.get(i)));
            }
            return sheet(question, zones, all);
        }
    }

    private static Case refused(String one, String other, String field, String message) {
        return new Case("repairable", ZONES, List.of(one, other), 12, "rules[1]." + field, message);
    }

    private static Case kept(String one, String other) {
        return new Case("repairable", ZONES, List.of(one, other), 0, "", "");
    }

    private static String mm(String quantity, String bound, double limit) {
        return "'quantity': '%s', 'bound': '%s', 'limitMm': %s".formatted(quantity, bound, limit);
    }

    private static String number(String quantity, String bound, int limit) {
        return "'quantity': '%s', 'bound': '%s', 'limitCount': %d".formatted(quantity, bound, limit);
    }

    private static String word(String quantity, String... allowed) {
        return "'quantity': '%s', 'bound': 'one-of', 'allowed': [%s]"
                .formatted(
                        quantity,
                        Stream.of(allowed).map(word -> "'" + word + "'").collect(Collectors.joining(", ")));
    }

    private static String in(String zone, String rule) {
        return "'where': '" + zone + "', " + rule;
    }

    private static String of(String categories, String rule) {
        return "'vehicles': [" + categories + "], " + rule;
    }

    static Stream<Case> refused() {
        var together = "cannot be kept together with rules[0], \"r-0\"";
        return Stream.of(
                // numbers
                refused(
                        number("ends-at-edge", "at-most", 0),
                        number("ends-at-edge", "at-least", 1),
                        "limitCount",
                        together),
                refused(
                        number("earlier-repairs", "at-most", 0),
                        number("earlier-repairs", "at-least", 1),
                        "limitCount",
                        together),
                refused(number("age-days", "at-most", 30), number("age-days", "more-than", 30), "limitCount", together),
                refused(
                        number("age-days", "less-than", 31),
                        number("age-days", "more-than", 30),
                        "limitCount",
                        together),
                // words
                refused(word("layers", "outer"), word("layers", "through"), "allowed", together),
                refused(word("condition", "clean-dry"), word("condition", "wet", "dirty"), "allowed", together),
                refused(word("view", "none", "minor"), word("view", "major"), "allowed", together),
                refused(
                        in("drivers-zone", word("crosses-zone", "no")),
                        in("drivers-zone", word("crosses-zone", "yes")),
                        "allowed",
                        together),
                // lengths, and what is a part of another
                refused(
                        mm("crack-length", "at-most", 20),
                        mm("crack-length", "at-least", 20.5),
                        "limitMm",
                        "no damage is at least 20.5 mm and at most 20 mm"),
                refused(mm("overall-diameter", "at-most", 10), mm("pit-diameter", "at-least", 12), "limitMm", together),
                refused(mm("longest-leg", "more-than", 50), mm("overall-diameter", "at-most", 40), "limitMm", together),
                refused(
                        mm("overall-diameter", "at-most", 10) + ", 'togetherWithinMm': 10",
                        mm("overall-diameter", "at-least", 12),
                        "limitMm",
                        together),
                // zones: the whole glass under both its names, a part of the zone, the same zone
                refused(
                        mm("overall-diameter", "at-most", 10),
                        in("whole-glass", mm("overall-diameter", "at-least", 12)),
                        "limitMm",
                        together),
                refused(
                        in("drivers-zone", mm("overall-diameter", "at-most", 10)),
                        mm("overall-diameter", "at-least", 12),
                        "limitMm",
                        together),
                refused(
                        in("swept-area", mm("overall-diameter", "at-most", 10)),
                        in("rest", mm("overall-diameter", "at-least", 12)),
                        "limitMm",
                        together),
                refused(
                        in("both", word("layers", "outer")),
                        in("swept-area", word("layers", "through")),
                        "allowed",
                        together),
                refused(
                        in("drivers-zone", mm("distance-to-zone", "at-most", 10)),
                        in("swept-area", mm("distance-to-zone", "at-least", 50)),
                        "limitMm",
                        together),
                refused(
                        in("swept-area", mm("length-in-zone", "at-most", 20)),
                        in("drivers-zone", mm("length-in-zone", "at-least", 30)),
                        "limitMm",
                        together),
                refused(
                        in("swept-area", number("earlier-repairs", "at-most", 0)),
                        in("rest", number("earlier-repairs", "at-least", 1)),
                        "limitCount",
                        together),
                // vehicles and kinds in part the same
                refused(
                        mm("overall-diameter", "at-most", 10),
                        of("{ 'categories': ['M1'] }", mm("overall-diameter", "at-least", 12)),
                        "limitMm",
                        together),
                refused(
                        of("{ 'categories': ['M2', 'N2'], 'massUpToKg': 7500 }", mm("overall-diameter", "at-most", 10)),
                        of("{ 'massOverKg': 3500 }", mm("overall-diameter", "at-least", 12)),
                        "limitMm",
                        together),
                refused(
                        "'kinds': ['bullseye', 'star-break'], " + mm("overall-diameter", "at-most", 10),
                        "'kinds': ['star-break', 'crack'], " + mm("overall-diameter", "at-least", 12),
                        "limitMm",
                        together),
                // other damages
                refused(
                        mm("distance-to-other-damage", "at-least", 100),
                        "'otherKinds': ['crack'], " + mm("distance-to-other-damage", "at-most", 50),
                        "limitMm",
                        together),
                // three words of which each pair has one in common
                new Case(
                        "repairable",
                        ZONES,
                        List.of(
                                word("condition", "clean-dry", "wet"),
                                word("condition", "wet", "dirty"),
                                word("condition", "clean-dry", "dirty")),
                        13,
                        "rules[2].allowed",
                        "nothing that all of them allow"),
                // finished repairs: one rule for them alone, one for all
                new Case(
                        "acceptable",
                        ZONES,
                        List.of(
                                mm("overall-diameter", "at-most", 10) + ", 'countsFinishedRepairs': true",
                                mm("overall-diameter", "at-least", 12)
                                        + ", 'countsFinishedRepairs': true, 'onlyFinishedRepairs': true"),
                        12,
                        "rules[1].limitMm",
                        together),
                // rules that never speak
                refused(
                        mm("overall-diameter", "at-most", 10),
                        of("{ 'categories': ['N3'] }", word("layers", "outer")),
                        "vehicles",
                        "none of those that the sheet is for"),
                refused(
                        in("buses-only", mm("overall-diameter", "at-most", 10)),
                        of("{ 'categories': ['M1'] }", in("buses-only", mm("crack-length", "at-most", 10))),
                        "where",
                        "not drawn for the vehicles of this rule"),
                empty("{ \"without\": { \"from\": \"swept-area\", \"zones\": [\"swept-area\"] } }"),
                empty("{ \"without\": { \"from\": \"far\", \"zones\": [\"whole-glass\"] } }"),
                empty(
                        "{ \"inset\": { \"topMm\": 900, \"bottomMm\": 900, \"sidesMm\": 0, \"fromWheelTop\": false, \"within\": \"whole-glass\" } }"),
                refused(
                        mm("overall-diameter", "at-most", 10),
                        in("whole-glass", mm("distance-to-zone", "more-than", 0)),
                        "where",
                        "every damage lies on the glass"));
    }

    private static Case empty(String way) {
        return new Case(
                "repairable",
                ZONES + "\n\"nowhere\": [" + way + "],",
                List.of(mm("overall-diameter", "at-most", 40), in("nowhere", mm("pit-diameter", "at-most", 5))),
                9,
                "zones.nowhere",
                "is empty");
    }

    static Stream<Case> kept() {
        return Stream.of(
                kept(number("ends-at-edge", "at-most", 1), number("ends-at-edge", "at-least", 1)),
                kept(number("age-days", "at-most", 30), number("age-days", "at-least", 30)),
                kept(word("condition", "clean-dry", "wet"), word("condition", "wet", "dirty")),
                kept(
                        in("drivers-zone", mm("overall-diameter", "at-most", 10)),
                        in("rest", mm("overall-diameter", "at-least", 12))),
                kept(
                        in("drivers-zone", mm("overall-diameter", "at-most", 10)),
                        in("far", mm("overall-diameter", "at-least", 12))),
                kept(
                        in("swept-area", mm("distance-to-zone", "at-most", 10)),
                        in("drivers-zone", mm("distance-to-zone", "at-least", 50))),
                kept(
                        in("drivers-zone", mm("length-in-zone", "at-most", 20)),
                        in("swept-area", mm("length-in-zone", "at-least", 30))),
                kept(
                        in("rest", number("earlier-repairs", "at-most", 0)),
                        in("swept-area", number("earlier-repairs", "at-least", 1))),
                kept(
                        of("{ 'massUpToKg': 3500 }", mm("overall-diameter", "at-most", 10)),
                        of("{ 'massOverKg': 3500 }", mm("overall-diameter", "at-least", 12))),
                kept(
                        "'kinds': ['bullseye'], " + mm("overall-diameter", "at-most", 10),
                        "'kinds': ['star-break'], " + mm("overall-diameter", "at-least", 12)),
                kept(mm("pit-diameter", "at-most", 10), mm("overall-diameter", "at-least", 12)),
                kept(mm("overall-diameter", "at-most", 10), mm("crack-length", "at-least", 12)), // a bent one is longer
                kept(
                        mm("overall-diameter", "at-most", 10),
                        mm("overall-diameter", "at-least", 12) + ", 'togetherWithinMm': 10"),
                kept(
                        "'otherKinds': ['pit'], " + mm("distance-to-other-damage", "at-least", 100),
                        "'otherKinds': ['crack'], " + mm("distance-to-other-damage", "at-most", 50)),
                new Case(
                        "roadworthy",
                        ZONES,
                        List.of(
                                mm("overall-diameter", "at-most", 10),
                                mm("overall-diameter", "at-least", 12)
                                        + ", 'countsFinishedRepairs': true, 'onlyFinishedRepairs': true"),
                        0,
                        "",
                        ""));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("refused")
    void refusesWhatNoDamageCouldKeepWithLineAndField(Case refused) {
        var refusal = catchThrowableOfType(BrokenSheet.class, () -> Sheets.read("own", refused.text()));
        assertThat(refusal).as(refused.text()).isNotNull();
        assertThat(refusal.problems()).singleElement().satisfies(problem -> {
            assertThat(problem.field()).isEqualTo(refused.field());
            assertThat(problem.line()).isEqualTo(refused.line());
            assertThat(problem.message()).contains(refused.message());
        });
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("kept")
    void takesWhatSomeDamageKeeps(Case kept) {
        var text = kept.question().equals("roadworthy")
                ? kept.text().replace("\"no\", \"source\"", "\"major\", \"source\"")
                : kept.text();
        assertThat(Sheets.read("own", text).rules()).hasSameSizeAs(kept.rules());
    }

    /** As large as the schema lets one be: 20 spans of masses for each of 200 rules, of which none fight for sure. */
    @ParameterizedTest
    @ValueSource(strings = {"apart", "alike", "words", "zones"})
    void looksNoLongerThanItMayAtALargeSheet(String how) {
        var rules = new ArrayList<String>();
        for (var i = 0; i < 200; i++) {
            var number = i;
            var tests = IntStream.range(0, 20)
                    .mapToObj(test -> how.equals("apart")
                            ? span(1000 * test + 2 * number + 1, 1)
                            : span(500 * test + number + 1, 9000.0 - number))
                    .collect(Collectors.joining(", "));
            var view = List.of("'none', 'minor', 'major'", "'minor', 'major', 'dangerous'", "'none', 'dangerous'");
            rules.add(of(
                    tests,
                    switch (how) {
                        case "words" -> "'quantity': 'view', 'bound': 'one-of', 'allowed': [" + view.get(i % 3) + "]";
                        case "zones" -> in("nowhere", mm("overall-diameter", "at-most", 10 + i));
                        default ->
                            i % 2 == 0 ? mm("overall-diameter", "at-most", 10) : mm("overall-diameter", "at-least", 12);
                    }));
        }
        var zones = ZONES + "\"nowhere\": [{ \"vehicles\": [{ \"categories\": [\"N3\"] }],"
                + " \"half\": { \"side\": \"driver\", \"within\": \"whole-glass\" } }],";
        var large = new Case("repairable", zones, rules, 0, "", "");
        assertTimeoutPreemptively(Duration.ofSeconds(5), () -> {
            try {
                assertThat(Sheets.read("own", large.text()).rules()).hasSize(200);
            } catch (BrokenSheet told) {
                assertThat(told.problems())
                        .isNotEmpty()
                        .hasSizeLessThanOrEqualTo(50)
                        .allSatisfy(problem -> assertThat(problem.message())
                                .containsAnyOf("cannot be kept together", "is not drawn for"));
            }
        });
    }

    @Test
    void comparesVehiclesOnlySoOften() {
        var tests = IntStream.range(0, 20)
                .mapToObj(test -> new VehicleTest(Set.of(), 1000.0 * test, 1000.0 * test + 1))
                .toList();
        var rule = Cases.sheet("common-practice-repair").rules().getFirst();
        var rules = new ArrayList<Rule>();
        for (var i = 0; i < 200; i++) {
            var moved = 2.0 * i;
            rules.add(new Rule(
                    "r-" + i,
                    Set.of(),
                    tests.stream()
                            .map(test -> new VehicleTest(
                                    Set.of(),
                                    Objects.requireNonNull(test.massOverKg()) + moved,
                                    Objects.requireNonNull(test.massUpToKg()) + moved))
                            .toList(),
                    null,
                    Quantity.OVERALL_DIAMETER,
                    i % 2 == 0 ? Bound.AT_MOST : Bound.AT_LEAST,
                    i % 2 == 0 ? 10.0 : 12.0,
                    null,
                    List.of(),
                    null,
                    false,
                    false,
                    null,
                    Set.of(),
                    List.of(),
                    null,
                    rule.source()));
        }
        var check = new Contradictions(Cases.sheet("common-practice-repair").with(rules), (pointer, message) -> {});
        check.tell();
        assertThat(check.compared()).isEqualTo(Contradictions.MOST_COMPARED);
    }

    @Test
    void theShippedSheetsAreLookedOverWhole() {
        for (var shipped : Sheets.shipped()) {
            var check = new Contradictions(shipped, (pointer, message) -> {});
            check.tell();
            assertThat(check.compared()).as(shipped.id()).isLessThan(Contradictions.MOST_COMPARED / 10);
        }
    }

    /** Kept sheets judge as they did, and reading them takes no look at each pair of their rules. */
    @Test
    void looksForRulesThatFightOnlyWhereASheetIsWritten() {
        var fight = new Case(
                "repairable",
                ZONES,
                List.of(mm("overall-diameter", "at-most", 10), mm("overall-diameter", "at-least", 12)),
                0,
                "",
                "");
        assertThat(catchThrowableOfType(BrokenSheet.class, () -> Sheets.read("own", fight.text())))
                .isNotNull();
        var kept = Sheets.kept("own", 1, fight.text());
        assertThat(kept.problems()).isEmpty();
        assertThat(kept.sheet().rules()).hasSize(2);
    }

    private static String span(double over, double width) {
        return "{ 'massOverKg': " + over + ", 'massUpToKg': " + (over + width) + " }";
    }
}
