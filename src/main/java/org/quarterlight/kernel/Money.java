package org.quarterlight.kernel;

import java.math.BigDecimal;
import java.util.Currency;
import java.util.regex.Pattern;

/** An amount in the smallest unit of its currency, ISO 4217: pence, but whole yen and thousandths of a dinar. */
public record Money(long amountMinor, String currency) {
    private static final Pattern DIGITS = Pattern.compile("\\d{1,9}([.,]\\d*)?");

    /**
     * The currency of these three letters.
     *
     * @throws Invalid where nobody pays in it: codes of metals, funds and tests, and XXX for none, have no smallest unit
     */
    public static Currency currency(String field, String code) {
        try {
            var found = Currency.getInstance(code.strip());
            if (found.getDefaultFractionDigits() >= 0) {
                return found;
            }
        } catch (IllegalArgumentException e) {
            // told below
        }
        throw new Invalid(field, "Three capital letters of a currency, such as GBP");
    }

    /**
     * What somebody typed, in the smallest unit; a decimal comma is as good as a point.
     *
     * @throws Invalid where it is no amount, or finer than the currency is
     */
    public static Money typed(String field, String text, Currency currency) {
        var amount = text.strip();
        var digits = currency.getDefaultFractionDigits();
        if (!DIGITS.matcher(amount).matches()) {
            throw new Invalid(
                    field,
                    "Give an amount, for example " + BigDecimal.valueOf(49).setScale(digits));
        }
        var number = new BigDecimal(amount.replace(',', '.')).stripTrailingZeros();
        if (number.scale() > digits) {
            throw new Invalid(
                    field,
                    currency.getCurrencyCode() + (digits == 0 ? " has no decimals" : " has " + digits + " decimals"));
        }
        return new Money(number.movePointRight(digits).longValueExact(), currency.getCurrencyCode());
    }

    /** {@code 49.50}, with as many decimals as the currency has. */
    public String amount() {
        var digits = Math.max(0, Currency.getInstance(currency).getDefaultFractionDigits());
        return BigDecimal.valueOf(amountMinor, digits).toPlainString();
    }

    /** {@code 49.50 GBP}. */
    @Override
    public String toString() {
        return amount() + " " + currency;
    }
}
