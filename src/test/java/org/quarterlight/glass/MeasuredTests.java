package org.quarterlight.glass;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MeasuredTests {
    @ParameterizedTest
    @CsvSource({
        "24.61, 0.5, 24.6 ± 0.5",
        "338.7, 3, 339 ± 3",
        "4.2, 0.72, 4.2 ± 0.7",
        "12.345, 0.02, 12.35 ± 0.02",
        "638, 12.4, 638 ± 12",
        "7.8, 0.96, 8 ± 1",
        "17.5, 2, 18 ± 2",
        "-4.24, 0.7, −4.2 ± 0.7",
        "-0.02, 0.5, 0.0 ± 0.5",
        "5, 0, 5.0"
    })
    void digitsEndWhereTheDoubtBegins(double mm, double uncertainty, String text) {
        assertThat(new Measured(mm, uncertainty).text()).isEqualTo(text);
    }

    @Test
    void lengthWithoutAKnownUncertaintyIsNone() {
        assertThatIllegalArgumentException().isThrownBy(() -> new Measured(3, Double.NaN));
        assertThatIllegalArgumentException().isThrownBy(() -> new Measured(3, -1));
    }
}
