package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.quarterlight.eligibility.BrokenSheet.Problem;

class SheetsTests {
    /** Line 1 is the opening brace; the rule stands in lines 7 to 12. */
    private static final String GOOD = """
        {
          "id": "own", "name": "Own sheet", "version": 1, "question": "repairable",
          "validFrom": "2026-01-01",
          "zones": {
            "drivers-zone": [{ "band": { "widthMm": 290, "within": "swept-area" } }]
          },
          "rules": [
            {
              "rule": "size",
              "where": "drivers-zone",
              "quantity": "overall-diameter", "bound": "at-most", "limitMm": 20,
              "ifBroken": "no", "countsFinishedRepairs": false,
              "source": { "document": "common practice, no source", "status": "common-practice" }
            }
          ]
        }
        """;

    private record Broken(String what, String text, int line, String field, String message) {
        @Override
        public String toString() {
            return what;
        }
    }

    private static Broken broken(String what, String from, String to, int line, String field, String message) {
        assertThat(GOOD).contains(from);
        return new Broken(what, GOOD.replace(from, to), line, field, message);
    }

    static Stream<Broken> broken() {
        return Stream.of(
                new Broken("an empty text", "", 1, "sheet", "is empty"),
                new Broken("no object", "[1]", 1, "sheet", "object"),
                new Broken("cut off", GOOD.substring(0, GOOD.indexOf("limitMm")), 11, "sheet", "is no JSON"),
                broken("a comma too many", "\"version\": 1,", "\"version\": 1,,", 2, "sheet", "is no JSON"),
                broken(
                        "a field twice",
                        "\"bound\": \"at-most\",",
                        "\"bound\": \"at-most\", \"bound\": \"at-least\",",
                        11,
                        "rules[0].bound",
                        "duplicate"),
                broken("not a number", "\"limitMm\": 20", "\"limitMm\": NaN", 11, "sheet", "is no JSON"),
                broken(
                        "a text for a number",
                        "\"limitMm\": 20",
                        "\"limitMm\": \"20\"",
                        11,
                        "rules[0].limitMm",
                        "number"),
                broken("a number for a name", "\"name\": \"Own sheet\"", "\"name\": 7", 2, "name", "string"),
                broken("a negative length", "\"limitMm\": 20", "\"limitMm\": -20", 11, "rules[0].limitMm", "minimum"),
                broken("a huge length", "\"limitMm\": 20", "\"limitMm\": 1e300", 11, "rules[0].limitMm", "maximum"),
                broken(
                        "a huge version",
                        "\"version\": 1,",
                        "\"version\": 99999999999999999999,",
                        2,
                        "version",
                        "maximum"),
                broken("a version of half", "\"version\": 1,", "\"version\": 1.5,", 2, "version", "integer"),
                broken("an unknown question", "\"repairable\"", "\"nice\"", 2, "question", "roadworthy"),
                broken(
                        "an unknown word",
                        "\"overall-diameter\"",
                        "\"over-all\"",
                        11,
                        "rules[0].quantity",
                        "overall-diameter"),
                broken("a missing bound", "\"bound\": \"at-most\",", "", 8, "rules[0].bound", "required"),
                broken(
                        "a missing source",
                        "\"document\": \"common practice, no source\",",
                        "",
                        13,
                        "rules[0].source.document",
                        "required"),
                broken(
                        "a field one too many",
                        "\"rule\": \"size\",",
                        "\"rule\": \"size\", \"colour\": \"red\",",
                        9,
                        "rules[0].colour",
                        "colour"),
                broken(
                        "no rules",
                        GOOD.substring(GOOD.indexOf("\"rules\""), GOOD.lastIndexOf(']') + 1),
                        "\"rules\": []",
                        7,
                        "rules",
                        "at least 1"),
                broken("no day", "2026-01-01", "2026-02-30", 3, "validFrom", "no day"),
                broken("a date in words", "2026-01-01", "New Year", 3, "validFrom", "pattern"),
                broken(
                        "an unknown zone",
                        "\"where\": \"drivers-zone\"",
                        "\"where\": \"drivers-lap\"",
                        10,
                        "rules[0].where",
                        "unknown zone \"drivers-lap\""),
                broken(
                        "a zone from an unknown zone",
                        "\"within\": \"swept-area\"",
                        "\"within\": \"wiped\"",
                        5,
                        "zones.drivers-zone[0]",
                        "unknown zone \"wiped\""),
                broken(
                        "a zone from itself",
                        "\"within\": \"swept-area\"",
                        "\"within\": \"drivers-zone\"",
                        5,
                        "zones.drivers-zone",
                        "drivers-zone → drivers-zone"),
                broken(
                        "zones in a circle",
                        "\"drivers-zone\": [{ \"band\": { \"widthMm\": 290, \"within\": \"swept-area\" } }]",
                        """
                        "drivers-zone": [{ "band": { "widthMm": 290, "within": "rest" } }],
                        "rest": [{ "without": { "from": "swept-area", "zones": ["drivers-zone"] } }]\
                        """,
                        5,
                        "zones.drivers-zone",
                        "drivers-zone → rest → drivers-zone"),
                broken(
                        "two constructions in one",
                        "{ \"band\"",
                        "{ \"square\": { \"sideMm\": 9, \"within\": \"swept-area\" }, \"band\"",
                        5,
                        "zones.drivers-zone[0]",
                        "exactly one"),
                broken(
                        "a zone without width",
                        "\"widthMm\": 290",
                        "\"widthMm\": 0",
                        5,
                        "zones.drivers-zone[0].band.widthMm",
                        "minimum"),
                broken(
                        "a zone of every glass drawn anew",
                        "\"drivers-zone\": [",
                        "\"swept-area\": [",
                        5,
                        "zones.swept-area",
                        "every glass"),
                broken(
                        "a grade on a repair sheet",
                        "\"ifBroken\": \"no\"",
                        "\"ifBroken\": \"major\"",
                        12,
                        "rules[0].ifBroken",
                        "must be \"no\""),
                broken(
                        "no grade on a road sheet",
                        "\"repairable\"",
                        "\"roadworthy\"",
                        12,
                        "rules[0].ifBroken",
                        "must be a grade"),
                broken("a length without limit", "\"limitMm\": 20,", "", 8, "rules[0].limitMm", "is missing"),
                broken(
                        "a limit of another kind",
                        "\"limitMm\": 20",
                        "\"limitMm\": 20, \"limitCount\": 2",
                        11,
                        "rules[0].limitCount",
                        "does not go with"),
                broken(
                        "a fact with a length",
                        "\"overall-diameter\"",
                        "\"layers\"",
                        8,
                        "rules[0].allowed",
                        "is missing"),
                broken(
                        "a crossing without zone",
                        "\"where\": \"drivers-zone\",\n      \"quantity\": \"overall-diameter\"",
                        "\"quantity\": \"distance-to-zone\"",
                        8,
                        "rules[0].where",
                        "needs a zone"),
                broken(
                        "a mass that no vehicle has",
                        "\"rule\": \"size\",",
                        "\"rule\": \"size\", \"vehicles\": [{ \"massOverKg\": 3500, \"massUpToKg\": 3500 }],",
                        9,
                        "rules[0].vehicles[0].massOverKg",
                        "leaves no mass"),
                broken(
                        "a count of nothing",
                        "\"quantity\": \"overall-diameter\", \"bound\": \"at-most\", \"limitMm\": 20",
                        "\"quantity\": \"count\", \"bound\": \"less-than\", \"limitCount\": 0",
                        11,
                        "rules[0].limitCount",
                        "can never be kept"),
                broken(
                        "a size that is always kept",
                        "\"bound\": \"at-most\", \"limitMm\": 20",
                        "\"bound\": \"at-least\", \"limitMm\": 0",
                        11,
                        "rules[0].limitMm",
                        "can never be broken"),
                broken(
                        "a crack with three ends",
                        "\"quantity\": \"overall-diameter\", \"bound\": \"at-most\", \"limitMm\": 20",
                        "\"quantity\": \"ends-at-edge\", \"bound\": \"at-most\", \"limitCount\": 3",
                        11,
                        "rules[0].limitCount",
                        "two ends"),
                broken(
                        "everything allowed",
                        "\"quantity\": \"overall-diameter\", \"bound\": \"at-most\", \"limitMm\": 20",
                        "\"quantity\": \"layers\", \"bound\": \"one-of\", \"allowed\": [\"outer\", \"through\"]",
                        11,
                        "rules[0].allowed",
                        "everything is allowed"),
                broken(
                        "a grade for a layer",
                        "\"quantity\": \"overall-diameter\", \"bound\": \"at-most\", \"limitMm\": 20",
                        "\"quantity\": \"layers\", \"bound\": \"one-of\", \"allowed\": [\"minor\"]",
                        11,
                        "rules[0].allowed",
                        "does not go with layers"),
                broken(
                        "a crack length of stars only",
                        "\"quantity\": \"overall-diameter\", \"bound\": \"at-most\", \"limitMm\": 20",
                        "\"kinds\": [\"star-break\"], \"quantity\": \"crack-length\", \"bound\": \"at-most\","
                                + " \"limitMm\": 20",
                        11,
                        "rules[0].kinds",
                        "none of them has a crack-length"),
                broken(
                        "counted things without a count",
                        "\"quantity\": \"overall-diameter\", \"bound\": \"at-most\", \"limitMm\": 20",
                        "\"counted\": [{ \"kinds\": [\"crack\"] }], \"quantity\": \"overall-diameter\", \"bound\":"
                                + " \"at-most\", \"limitMm\": 20",
                        11,
                        "rules[0].counted",
                        "goes with count"),
                broken(
                        "a counted damage without its limit",
                        "\"quantity\": \"overall-diameter\", \"bound\": \"at-most\", \"limitMm\": 20",
                        "\"quantity\": \"count\", \"bound\": \"at-most\", \"limitCount\": 1, \"counted\": [{"
                                + " \"kinds\": [\"crack\"], \"tests\": [{ \"quantity\": \"crack-length\", \"bound\":"
                                + " \"more-than\" }] }]",
                        11,
                        "rules[0].counted[0].tests[0].limitMm",
                        "is missing"),
                broken(
                        "a counted pit as long as a crack",
                        "\"quantity\": \"overall-diameter\", \"bound\": \"at-most\", \"limitMm\": 20",
                        "\"quantity\": \"count\", \"bound\": \"at-most\", \"limitCount\": 1, \"counted\": [{"
                                + " \"kinds\": [\"pit\"], \"tests\": [{ \"quantity\": \"crack-length\", \"bound\":"
                                + " \"more-than\", \"limitMm\": 150 }] }]",
                        11,
                        "rules[0].counted[0].tests[0].quantity",
                        "none of the kinds counted"),
                broken(
                        "a count within a count",
                        "\"quantity\": \"overall-diameter\", \"bound\": \"at-most\", \"limitMm\": 20",
                        "\"quantity\": \"count\", \"bound\": \"at-most\", \"limitCount\": 1, \"counted\": [{"
                                + " \"kinds\": [\"crack\"], \"tests\": [{ \"quantity\": \"count\", \"bound\": \"at-most\","
                                + " \"limitCount\": 1 }] }]",
                        11,
                        "rules[0].counted[0].tests[0].quantity",
                        "cannot be asked"),
                broken(
                        "an age of half a day",
                        "\"quantity\": \"overall-diameter\", \"bound\": \"at-most\", \"limitMm\": 20",
                        "\"quantity\": \"age-days\", \"bound\": \"at-most\", \"limitCount\": 0.5",
                        11,
                        "rules[0].limitCount",
                        "integer"),
                broken(
                        "a part of a zone without zone",
                        "\"where\": \"drivers-zone\",\n"
                                + "      \"quantity\": \"overall-diameter\", \"bound\": \"at-most\", \"limitMm\": 20",
                        "\"quantity\": \"length-in-zone\", \"bound\": \"at-most\", \"limitMm\": 20",
                        8,
                        "rules[0].where",
                        "needs a zone"),
                broken(
                        "a band about the passenger",
                        "\"widthMm\": 290,",
                        "\"widthMm\": 290, \"centre\": \"passenger\",",
                        5,
                        "zones.drivers-zone[0].band.centre",
                        "wheel"),
                broken(
                        "a strip without a side",
                        "\"band\": { \"widthMm\": 290, \"within\": \"swept-area\" }",
                        "\"strip\": { \"widthMm\": 500, \"within\": \"swept-area\" }",
                        5,
                        "zones.drivers-zone[0].strip.side",
                        "required"),
                broken(
                        "a rectangle of no height",
                        "\"band\": { \"widthMm\": 290, \"within\": \"swept-area\" }",
                        "\"rectangle\": { \"widthMm\": 9, \"heightMm\": 0, \"within\": \"swept-area\" }",
                        5,
                        "zones.drivers-zone[0].rectangle.heightMm",
                        "minimum"),
                broken(
                        "a union of one",
                        "\"band\": { \"widthMm\": 290, \"within\": \"swept-area\" }",
                        "\"union\": [\"swept-area\"]",
                        5,
                        "zones.drivers-zone[0].union",
                        "at least 2"),
                broken(
                        "a union with an unknown zone",
                        "\"band\": { \"widthMm\": 290, \"within\": \"swept-area\" }",
                        "\"union\": [\"swept-area\", \"nowhere\"]",
                        5,
                        "zones.drivers-zone[0]",
                        "unknown zone \"nowhere\""),
                broken(
                        "a union with itself",
                        "\"band\": { \"widthMm\": 290, \"within\": \"swept-area\" }",
                        "\"union\": [\"swept-area\", \"drivers-zone\"]",
                        5,
                        "zones.drivers-zone",
                        "drivers-zone → drivers-zone"),
                broken(
                        "an unknown category",
                        "\"rule\": \"size\",",
                        "\"rule\": \"size\", \"vehicles\": [{ \"categories\": [\"L7\"] }],",
                        9,
                        "rules[0].vehicles[0].categories[0]",
                        "M1"),
                broken(
                        "the same name twice",
                        "\"rules\": [",
                        "\"rules\": [" + rule("size", "at-most", 30) + ",",
                        9,
                        "rules[1].rule",
                        "is the name of rules[0]"),
                broken(
                        "limits that fight",
                        "\"rules\": [",
                        "\"rules\": [" + rule("least", "more-than", 20) + ",",
                        11,
                        "rules[1].limitMm",
                        "cannot be kept together with rules[0]"));
    }

    private static String rule(String name, String bound, int limitMm) {
        return """
            { "rule": "%s", "where": "drivers-zone", "quantity": "overall-diameter", "bound": "%s", "limitMm": %d, \
            "ifBroken": "no", "countsFinishedRepairs": false, "source": { "document": "d", "status": "memory" } }\
            """.formatted(name, bound, limitMm);
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("broken")
    void refusesWithTheLineAndTheField(Broken broken) {
        var refusal = catchThrowableOfType(BrokenSheet.class, () -> Sheets.read("own", broken.text()));
        assertThat(refusal).isNotNull();
        assertThat(refusal.problems()).anySatisfy(problem -> {
            assertThat(problem.field()).isEqualTo(broken.field());
            assertThat(problem.line()).isEqualTo(broken.line());
            assertThat(problem.message()).contains(broken.message());
        });
        assertThat(refusal).hasMessageStartingWith("own: line ");
    }

    @Test
    void collectsEveryProblemInTheOrderOfTheText() {
        var text = GOOD.replace("\"limitMm\": 20", "\"limitMm\": \"20\"").replace("\"version\": 1,", "\"version\": 0,");
        var refusal = catchThrowableOfType(BrokenSheet.class, () -> Sheets.read("own", text));
        assertThat(refusal.problems()).extracting(Problem::field).containsExactly("version", "rules[0].limitMm");
    }

    @Test
    void refusesAHugeTextBeforeReadingIt() {
        var refusal = catchThrowableOfType(BrokenSheet.class, () -> Sheets.read("own", " ".repeat(600_000)));
        assertThat(refusal.problems())
                .extracting(Problem::message)
                .first()
                .asString()
                .contains("characters");
    }

    @Test
    void refusesATextThatIsNestedTooDeep() {
        var refusal = catchThrowableOfType(BrokenSheet.class, () -> Sheets.read("own", "[".repeat(100_000)));
        assertThat(refusal.problems()).extracting(Problem::field).containsExactly("sheet");
    }

    @Test
    void readsWhatIsWellFormed() {
        var sheet = Sheets.read("own", GOOD);
        assertThat(sheet.reference()).isEqualTo(new SheetReference("own", "Own sheet", 1));
        assertThat(sheet.rules()).singleElement().satisfies(rule -> {
            assertThat(rule.limitMm()).isEqualTo(20);
            assertThat(rule.where()).isEqualTo("drivers-zone");
        });
        assertThat(Sheets.read("own", GOOD.replace("\"limitMm\": 20", "\"limitMm\": 19.05"))
                        .rules()
                        .getFirst()
                        .limitMm())
                .isEqualTo(19.05);
    }

    @Test
    void shipsSheetsThatAreAllWellFormed() {
        assertThat(Sheets.shipped()).hasSizeGreaterThanOrEqualTo(7).allSatisfy(sheet -> {
            assertThat(Sheets.read(sheet.id(), Sheets.textOf(sheet.id()))).isEqualTo(sheet);
            assertThat(sheet.rules()).isNotEmpty();
        });
    }
}
