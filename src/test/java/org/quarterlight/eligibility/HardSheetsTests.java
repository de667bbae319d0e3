package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.quarterlight.eligibility.BrokenSheet.Problem;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/** Sheets made to take long, and texts that no person writes: refused at once, with the place of the mistake. */
@Timeout(20)
class HardSheetsTests {
    private static final Duration AT_ONCE = Duration.ofSeconds(3);

    /** Each zone is made of the two before it: drawn by name alone, the last would take a drawing for each of 2^25 parts. */
    @Test
    void aZoneThatIsAPartOfManyIsDrawnOnce() {
        var zones = new LinkedHashMap<String, List<Zone.Drawn>>();
        zones.put("z0", way(new Zone.Band(300, Zone.Centre.WHEEL, Zone.SWEPT_AREA)));
        zones.put("z1", way(new Zone.Inset(10, 10, 10, false, "z0")));
        for (var i = 2; i < 40; i++) {
            zones.put("z" + i, way(new Zone.Union(List.of("z" + (i - 1), "z" + (i - 2)))));
        }
        var sheet = new Sheet(
                "own",
                "Own",
                1,
                Question.REPAIRABLE,
                null,
                null,
                List.of(),
                List.of(),
                LocalDate.EPOCH,
                false,
                null,
                null,
                zones,
                Sheets.read("good", good("")).rules());
        var glazing = new Glazing(
                GlassPattern.of(GenericGlass.SMALL_CAR.measurements(SteeringSide.LEFT)),
                new PatternReference("generic", 1, true),
                new VehicleFacts(VehicleCategory.M1, null));
        var begun = System.nanoTime();
        var areas = new Areas(glazing);
        var last = areas.zone(sheet, "z39");
        var took = Duration.ofNanos(System.nanoTime() - begun);
        assertThat(last.geometry().getArea())
                .isCloseTo(areas.zone(sheet, "z0").geometry().getArea(), within(1.0));
        assertThat(took).isLessThan(AT_ONCE);
    }

    private static List<Zone.Drawn> way(Zone zone) {
        return List.of(new Zone.Drawn(List.of(), zone));
    }

    @Test
    void zonesDrawnFromZonesHaveAnEnd() {
        refused(good("\"zones\": {" + chain(9) + "},"), "zones.z8", "more than 8 deep");
        assertThat(Sheets.read("good", good("\"zones\": {" + chain(8) + "},")).zones())
                .hasSize(8);
        var wide = IntStream.range(0, 40)
                .mapToObj(i -> "\"w" + i + "\": [{\"without\": {\"from\": \"whole-glass\", \"zones\":"
                        + " [\"swept-area\", \"camera-area\", \"whole-glass\", \"x\", \"y\"]}}]")
                .collect(Collectors.joining(","));
        var bands = ", \"x\": [{\"half\": {\"side\": \"driver\", \"within\": \"whole-glass\"}}],"
                + " \"y\": [{\"half\": {\"side\": \"driver\", \"within\": \"whole-glass\"}}]";
        refused(good("\"zones\": {" + wide.replaceFirst(".\"w3[89].*$", "") + bands + "},"), "zones", "200 parts");
        refused(
                good("\"zones\": {\"z\": [{\"without\": {\"from\": \"whole-glass\", \"zones\": [\"swept-area\","
                        + " \"swept-area\"]}}]},"),
                "zones.z[0].without.zones",
                "unique");
    }

    private static String chain(int many) {
        return IntStream.range(0, many)
                .mapToObj(i -> "\"z" + i + "\": [{\"half\": {\"side\": \"driver\", \"within\": \""
                        + (i == 0 ? "whole-glass" : "z" + (i - 1)) + "\"}}]")
                .collect(Collectors.joining(","));
    }

    private record Hard(String what, String text, int line, String field, String message) {
        @Override
        public String toString() {
            return what;
        }
    }

    static Stream<Hard> hard() {
        var rule = good("").substring(good("").indexOf("{\"rule\""), good("").lastIndexOf(']'));
        return Stream.of(
                new Hard("endless depth", "[".repeat(60_000), 1, "sheet", "nested deeper"),
                new Hard("depth by names", "{\"a\":".repeat(15_000), 1, "sheet", "nested deeper"),
                new Hard("endless lists", "[" + "[],".repeat(20_000) + "[]]", 1, "sheet", "more than 200 entries"),
                new Hard(
                        "many wrong values",
                        "[" + ("[" + "0,".repeat(199) + "0],").repeat(101) + "0]",
                        1,
                        "sheet",
                        "20000 values"),
                new Hard(
                        "too many rules",
                        good("").replace(rule, (rule + ",\n").repeat(201) + rule),
                        203,
                        "rules",
                        "more than 200 entries"),
                new Hard("an endless name", good("\"" + "n".repeat(20_000) + "\": 1,"), 2, "sheet", "80 characters"),
                new Hard(
                        "an endless zone name",
                        good("\"zones\": {\"" + "a-".repeat(10_000) + "a\": []},"),
                        2,
                        "zones",
                        "80 characters"),
                new Hard(
                        "an endless id",
                        good("").replace("\"own\"", "\"" + "a-".repeat(10_000) + "a\""),
                        1,
                        "id",
                        "2000 characters"),
                new Hard(
                        "an id as long as a note",
                        good("").replace("\"own\"", "\"" + "a-".repeat(900) + "a\""),
                        1,
                        "id",
                        "80"),
                new Hard(
                        "an endless version",
                        good("").replace("\"version\": 1", "\"version\": 1e1000"),
                        1,
                        "version",
                        "number"),
                new Hard(
                        "an endless count",
                        good("\"x\": {\"limitCount\": 1e1000000000},"),
                        2,
                        "x.limitCount",
                        "number"),
                new Hard(
                        "a thousand digits",
                        good("").replace("\"version\": 1", "\"version\": " + "9".repeat(1000)),
                        1,
                        "version",
                        "digits"),
                new Hard("a NUL in the name", good("").replace("Own", "O\\u0000wn"), 1, "name", "character"),
                new Hard("an escape in the name", good("").replace("Own", "O\\u001bwn"), 1, "name", "character"),
                new Hard("half a character", good("").replace("Own", "O\\ud83dwn"), 1, "name", "character"),
                new Hard("a NUL in a note", good("\"note\": \"a\\u0000\","), 2, "note", "character"),
                new Hard("a NUL for a field", good("\"a\\u0000\": 1,"), 2, "sheet", "character"),
                new Hard("a blank name", good("").replace("Own", " \\t\u00a0"), 1, "name", "blank"),
                new Hard("an invisible name", good("").replace("Own", "\u200b"), 1, "name", "blank"),
                new Hard("a name of two lines", good("").replace("Own", "Own\\r\\nsheet"), 1, "name", "one line"),
                new Hard("a blank note", good("\"note\": \"  \","), 2, "note", "blank"),
                new Hard(
                        "a source of two lines",
                        good("").replace("\"none\"", "\"one\\ntwo\""),
                        3,
                        "rules[0].source.document",
                        "one line"),
                new Hard("more after the end", good("") + "\n{}", 4, "sheet", "after its end"),
                new Hard("a field twice", good("\"name\": \"Other\","), 2, "name", "duplicate"));
    }

    @ParameterizedTest
    @MethodSource("hard")
    void isRefusedAtOnceAtItsPlaceInPlainWords(Hard hard) {
        var begun = System.nanoTime();
        var broken = refusal(hard.text());
        assertThat(Duration.ofNanos(System.nanoTime() - begun)).isLessThan(AT_ONCE);
        assertThat(broken.problems()).anySatisfy(problem -> {
            assertThat(problem.field()).startsWith(hard.field());
            assertThat(problem.line()).isEqualTo(hard.line());
            assertThat(problem.message()).contains(hard.message());
        });
        assertThat(broken.problems())
                .extracting(Problem::message)
                .noneMatch(message -> message.contains("jackson") || message.contains("Stream"));
        assertThat(String.valueOf(broken.getMessage())).hasSizeLessThan(20_000);
    }

    private static void refused(String text, String field, String message) {
        assertThat(refusal(text).problems()).anySatisfy(problem -> {
            assertThat(problem.field()).isEqualTo(field);
            assertThat(problem.message()).contains(message);
        });
    }

    private static BrokenSheet refusal(String text) {
        var broken = catchThrowableOfType(BrokenSheet.class, () -> Sheets.read("sheet", text));
        assertThat(broken).isNotNull();
        return broken;
    }

    /** With something more in its second line. */
    private static String good(String more) {
        return """
            {"id": "own", "name": "Own", "version": 1, "question": "repairable", "validFrom": "2026-01-01",
            %s "rules": [
            {"rule": "size", "quantity": "overall-diameter", "bound": "at-most", "limitMm": 20, "ifBroken": "no",\
             "countsFinishedRepairs": false, "source": {"document": "none", "status": "common-practice"}}]}\
            """.formatted(more);
    }
}
