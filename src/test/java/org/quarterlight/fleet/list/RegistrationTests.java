package org.quarterlight.fleet.list;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class RegistrationTests {
    @Test
    void keepsTheSpellingForShowAndHasOneKeyForAll() {
        var typed = Registration.of("  qv23 \u00a0 Ktb ");
        assertThat(typed.shown()).isEqualTo("qv23 Ktb");
        assertThat(typed.key()).isEqualTo("QV23KTB").isEqualTo(Registration.keyOf("QV23KTB"));
    }

    @Test
    void keepsTheHyphenThatPartsTheDistrictFromTheLetters() {
        assertThat(Registration.of("QW-A 123").key())
                .isNotEqualTo(Registration.of("Q-WA 123").key());
        assertThat(Registration.of("QW–A 123").key())
                .isEqualTo(Registration.of("qw-a123").key());
    }

    @Test
    void readsLettersOfOtherCountries() {
        assertThat(Registration.of("qw-äö 7").key()).isEqualTo("QW-ÄÖ7");
    }

    @Test
    void saysWhatIsWrong() {
        assertThat(Registration.problemOf(" ")).hasValue("is missing");
        assertThat(Registration.problemOf("---")).hasValue("has neither letters nor digits");
        assertThat(Registration.problemOf("AB1/AB2")).hasValue("has “/”, which no registration has");
        assertThat(Registration.problemOf("A".repeat(17))).hasValue("has 17 characters, a registration has at most 16");
    }
}
