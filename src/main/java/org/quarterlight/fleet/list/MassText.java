package org.quarterlight.fleet.list;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Locale;
import java.util.regex.Pattern;

/** Masses as people write them: 18000, 18.000 kg, 7,5 t, 3 500. */
final class MassText {
    private static final Pattern NUMBER_AND_UNIT = Pattern.compile("(\\d[\\d.,'’\\u00a0\\u202f ]*?)\\s*(\\p{L}*)\\.?");
    /** Thousands are parted by one mark throughout, and never by the mark of the decimals. */
    private static final Pattern NUMBER = Pattern.compile(
            "\\d+([.,]\\d*)?|\\d{1,3}(\\.\\d{3}){2,}|\\d{1,3}(,\\d{3}){2,}|\\d{1,3}(\\.\\d{3})+,\\d*|\\d{1,3}(,\\d{3})+\\.\\d*");

    private static final Pattern THOUSANDS = Pattern.compile("\\d{1,3}([.,]\\d{3})+");
    /** International pound, exact. */
    private static final BigDecimal KG_PER_LB = new BigDecimal("0.45359237");

    private static final int LEAST_KG = 200;
    private static final int MOST_KG = 100_000;
    /** No vehicle weighs so little, so a bare number below it is in tonnes. */
    private static final BigDecimal BARE_TONNES_BELOW = BigDecimal.valueOf(100);

    private MassText() {}

    /** The mass in kilograms; the unit of the heading counts where the cell names none. */
    static Parsed<Integer> parse(String text, String unitOfHeading) {
        var matcher = NUMBER_AND_UNIT.matcher(text.toLowerCase(Locale.ROOT));
        var digits = matcher.matches() ? matcher.group(1).replaceAll("['’\\u00a0\\u202f ]", "") : "";
        if (!NUMBER.matcher(digits).matches()) {
            return new Parsed.Wrong<>("says " + Parsed.quoted(text) + ", which is not a mass in kg or t");
        }
        var unit = matcher.group(2).isEmpty() ? unitOfHeading : matcher.group(2);
        return switch (unit) {
            case "kg", "kgs", "kilo", "kilos" -> within(text, number(digits, true));
            case "t", "to", "tonne", "tonnes", "tons", "tonnen", "toneladas" ->
                within(text, number(digits, false).movePointRight(3));
            case "lb", "lbs", "pounds" -> within(text, number(digits, true).multiply(KG_PER_LB));
            case "" -> {
                var number = number(digits, true);
                yield within(text, number.compareTo(BARE_TONNES_BELOW) < 0 ? number.movePointRight(3) : number);
            }
            default -> new Parsed.Wrong<>("says " + Parsed.quoted(text) + "; the mass is read in kg or t");
        };
    }

    /** 3.500 is three and a half thousand kilograms, but three and a half tonnes. */
    private static BigDecimal number(String digits, boolean threeDigitsAreThousands) {
        var lastPoint = digits.lastIndexOf('.');
        var lastComma = digits.lastIndexOf(',');
        var last = Math.max(lastPoint, lastComma);
        if (last < 0) {
            return new BigDecimal(digits);
        }
        var mark = digits.charAt(last);
        var once = digits.indexOf(mark) == last;
        var both = lastPoint >= 0 && lastComma >= 0;
        var thousands = !both && THOUSANDS.matcher(digits).matches() && (threeDigitsAreThousands || !once);
        if (thousands || !once) {
            return new BigDecimal(digits.replaceAll("[.,]", ""));
        }
        var whole = digits.substring(0, last).replaceAll("[.,]", "");
        var fraction = digits.substring(last + 1);
        return new BigDecimal(fraction.isEmpty() ? whole : whole + "." + fraction);
    }

    private static Parsed<Integer> within(String text, BigDecimal kg) {
        var rounded = kg.setScale(0, RoundingMode.HALF_UP);
        if (rounded.compareTo(BigDecimal.valueOf(LEAST_KG)) < 0 || rounded.compareTo(BigDecimal.valueOf(MOST_KG)) > 0) {
            return new Parsed.Wrong<>(
                    "says " + Parsed.quoted(text) + "; a vehicle's maximum mass lies between 200 and 100 000 kg");
        }
        return new Parsed.Value<>(rounded.intValueExact());
    }
}
