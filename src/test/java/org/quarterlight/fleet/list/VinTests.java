package org.quarterlight.fleet.list;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class VinTests {
    /** Sample of 49 CFR 565.15 table V (seen); NHTSA outline (seen); widely used (seen); computed; seen. */
    @ParameterizedTest
    @CsvSource({
        "1G4AH59H45G118341, 4",
        "1J9RP1A36A1644345, 6",
        "1M8GDM9AXKP042788, X",
        "11111111111111111, 1",
        "5GZCZ43D13S812715, 1"
    })
    void computesTheCheckDigitOfTheWorkedExamples(String vin, char digit) {
        assertThat(new Vin(vin).expectedCheckDigit()).isEqualTo(digit);
        assertThat(new Vin(vin).checkDigitFits()).isTrue();
    }

    @Test
    void noticesOneWrongCharacter() {
        assertThat(new Vin("1M8GDM9AXKP042789").checkDigitFits()).isFalse();
        assertThat(new Vin("1G4AH59H55G118341").checkDigitFits()).isFalse();
    }

    @Test
    void readsLowerCaseAndBlanks() {
        assertThat(new Vin(" 1m8 gdm9a xkp042788 ")).isEqualTo(new Vin("1M8GDM9AXKP042788"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"1M8GDM9AXKP04278O", "1M8GDM9AXKPI42788", "QM8GDM9AXKP042788"})
    void refusesTheLettersThatLookLikeDigits(String vin) {
        assertThat(Vin.problemOf(vin))
                .hasValueSatisfying(problem -> assertThat(problem).startsWith("has the letter "));
        assertThatThrownBy(() -> new Vin(vin)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void tellsHowManyCharactersAreThere() {
        assertThat(Vin.problemOf("1M8GDM9AXKP04278")).hasValue("has 16 characters, a VIN has 17");
        assertThat(Vin.problemOf("1M8GDM9AXKP0427889")).hasValue("has 18 characters, a VIN has 17");
        assertThat(Vin.problemOf("1")).hasValue("has 1 character, a VIN has 17");
    }

    @Test
    void refusesWhatIsNeitherLetterNorDigit() {
        assertThat(Vin.problemOf("1M8GDM9A-KP042788")).hasValue("has “-”; a VIN has letters and digits only");
        assertThat(Vin.problemOf("1M8GDM9AÄKP042788")).hasValue("has “Ä”; a VIN has letters and digits only");
    }
}
