package org.quarterlight.kernel;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Decimals by ISO 4217, as the JDK carries it: yen none, pounds two, Kuwaiti dinars three. */
class MoneyTests {
    @ParameterizedTest
    @CsvSource({"49.50, GBP, 4950", "'49,5', GBP, 4950", "49, JPY, 49", "49.000, JPY, 49", "1.234, KWD, 1234"})
    void whatIsTypedIsReadInTheUnitsOfItsCurrency(String typed, String currency, long minor) {
        assertThat(Money.typed("repair", typed, Money.currency("currency", currency)))
                .isEqualTo(new Money(minor, currency));
    }

    @ParameterizedTest
    @CsvSource({
        "49.5, JPY, has no decimals",
        "1.234, GBP, has 2 decimals",
        "cheap, GBP, for example 49.00",
        "-1, GBP, Give an amount"
    })
    void whatIsFinerOrNoAmountIsRefused(String typed, String currency, String words) {
        assertThatThrownBy(() -> Money.typed("repair", typed, Money.currency("currency", currency)))
                .isInstanceOf(Invalid.class)
                .hasMessageContaining(words);
    }

    @ParameterizedTest
    @ValueSource(strings = {"XXX", "XTS", "XAU", "XDR", "ZZZ", "gbp", "GB", ""})
    void codesThatNobodyPaysInAreRefused(String code) {
        assertThatThrownBy(() -> Money.currency("currency", code)).isInstanceOf(Invalid.class);
    }

    @ParameterizedTest
    @CsvSource({"4950, GBP, 49.50 GBP", "49, JPY, 49 JPY", "1234, KWD, 1.234 KWD", "-5, GBP, -0.05 GBP"})
    void itIsShownWithTheDecimalsOfItsCurrency(long minor, String currency, String shown) {
        assertThat(new Money(minor, currency)).hasToString(shown);
    }
}
