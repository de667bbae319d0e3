package org.quarterlight.rulebook.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.Sheets;

class SheetWordsTests {
    static Stream<Sheet> sheets() {
        return Sheets.shipped().stream();
    }

    @ParameterizedTest
    @MethodSource("sheets")
    void saysEveryLimitItsZoneAndItsSourceInWords(Sheet sheet) {
        var limits = new SheetWords(sheet).limits();
        assertThat(limits).hasSameSizeAs(sheet.rules()).allSatisfy(limit -> {
            assertThat(limit.limit()).isNotBlank().doesNotContain("null", "_");
            assertThat(limit.zone()).doesNotContain("null", "_", "()");
            assertThat(limit.status()).isNotBlank();
            assertThat(limit.consequence()).isNotBlank();
        });
        assertThat(sheet.zones().keySet())
                .allSatisfy(
                        zone -> assertThat(new SheetWords(sheet).drawn(zone)).isNotEmpty());
    }

    @Test
    void saysHowAStripAlongTheDriversEdgeIsFound() {
        assertThat(words("ca-british-columbia").drawn("drivers-zone"))
                .isEqualTo("500 mm from the driver's edge inwards in between borders (the whole glass without"
                        + " 75 mm along the top, 75 mm along the bottom)");
    }

    @Test
    void saysWhatIsCounted() {
        assertThat(words("ca-british-columbia").limits())
                .filteredOn(limit -> limit.name().equals("Number of long cracks"))
                .extracting(SheetWords.Limit::limit)
                .containsExactly("How many there at most 2, counting crack with length more than 150 mm");
    }

    @Test
    void namesCountryAndSubdivision() {
        assertThat(SheetWords.place(sheet("us-maryland"))).isEqualTo("United States, US-MD");
        assertThat(SheetWords.place(sheet("eu-2014-45-severity"))).isEqualTo("European Union");
        assertThat(SheetWords.place(sheet("common-practice-repair"))).isEqualTo("Any country");
    }

    /** Told anew at each mention, the last zone would take a word for each of a million parts. */
    @Test
    @Timeout(10)
    void tellsAPartOfManyZonesOnce() {
        // Something is left in each that a rule is about: z1 is the other half, and beside both is nothing.
        var zones = new StringBuilder("\"z0\": [{\"half\": {\"side\": \"driver\", \"within\": \"whole-glass\"}}]");
        for (var i = 1; i < 8; i++) {
            zones.append(", \"z").append(i).append("\": [{\"without\": {\"from\": \"whole-glass\", \"zones\": [");
            zones.append(
                    IntStream.range(0, i).mapToObj(part -> "\"z" + part + "\"").collect(Collectors.joining(",")));
            zones.append("]}}]");
        }
        var words = new SheetWords(Sheets.read("sheet", """
            {"id": "own", "name": "Own", "version": 1, "question": "repairable", "validFrom": "2026-01-01",
            "zones": {%s}, "rules": [
            {"rule": "size", "where": "z1", "quantity": "overall-diameter", "bound": "at-most", "limitMm": 20,
             "ifBroken": "no", "countsFinishedRepairs": false,
             "source": {"document": "none", "status": "common-practice"}}]}\
            """.formatted(zones)));
        assertThat(words.drawn("z2"))
                .isEqualTo("the whole glass without z0 (the driver's half of the whole glass) and z1 (the whole glass"
                        + " without z0)");
        assertThat(words.drawn("z7")).as("longer than a line of a table").isEmpty();
        assertThat(words.zones())
                .hasSize(8)
                .last()
                .satisfies(zone -> assertThat(zone.words())
                        .isEqualTo(
                                "the whole glass without the z0 and the z1 and the z2 and the z3 and the z4 and the z5"
                                        + " and the z6"));
    }

    private static SheetWords words(String id) {
        return new SheetWords(sheet(id));
    }

    private static Sheet sheet(String id) {
        return Sheets.shipped().stream()
                .filter(sheet -> sheet.id().equals(id))
                .findFirst()
                .orElseThrow();
    }
}
