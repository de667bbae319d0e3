package org.quarterlight.rulebook.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
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
