package org.quarterlight.fleet.list;

import java.util.Locale;
import java.util.Optional;

/**
 * A vehicle identification number: 17 characters, of which none is I, O or Q (ISO 3779; from memory, not checked
 * against the published text).
 *
 * @param value upper case, no blanks
 */
public record Vin(String value) {
    private static final int LENGTH = 17;
    private static final int CHECK_DIGIT_AT = 8;
    /** Values of the letters, 49 CFR 565.15(c) table III; a blank where the letter is not allowed. */
    private static final String LETTER_VALUES = "12345678 12345 7 923456789";
    /** 49 CFR 565.15(c) table IV. */
    private static final int[] WEIGHTS = {8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2};

    public Vin {
        var typed = value;
        value = normalised(typed);
        problemOf(value).ifPresent(problem -> {
            throw new IllegalArgumentException(typed + " " + problem);
        });
    }

    /** Why this cannot be a VIN, as a clause; empty where it can. */
    public static Optional<String> problemOf(String typed) {
        var value = normalised(typed);
        var strange = value.codePoints().filter(c -> !isAllowed(c)).findFirst();
        if (strange.isPresent()) {
            var character = Character.toString(strange.getAsInt());
            return Optional.of(
                    "IOQ".contains(character)
                            ? "has the letter " + character + "; a VIN never has I, O or Q, perhaps "
                                    + ("I".equals(character) ? "1" : "0") + " is meant"
                            : "has “" + character + "”; a VIN has letters and digits only");
        }
        return value.length() == LENGTH
                ? Optional.empty()
                : Optional.of("has " + value.length() + (value.length() == 1 ? " character" : " characters")
                        + ", a VIN has " + LENGTH);
    }

    /** The ninth character that 49 CFR 565.15(c) asks for: the weighted sum modulo 11, X for 10. */
    public char expectedCheckDigit() {
        var sum = 0;
        for (var i = 0; i < LENGTH; i++) {
            var c = value.charAt(i);
            sum += WEIGHTS[i] * (c <= '9' ? c - '0' : LETTER_VALUES.charAt(c - 'A') - '0');
        }
        var remainder = sum % 11;
        return remainder == 10 ? 'X' : (char) ('0' + remainder);
    }

    /**
     * Whether the ninth character is the check digit. It is binding in some markets only, and elsewhere often a filler,
     * so a wrong one is no more than a warning.
     */
    public boolean checkDigitFits() {
        return value.charAt(CHECK_DIGIT_AT) == expectedCheckDigit();
    }

    @Override
    public String toString() {
        return value;
    }

    private static boolean isAllowed(int c) {
        return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z' && LETTER_VALUES.charAt(c - 'A') != ' ');
    }

    private static String normalised(String typed) {
        var value = new StringBuilder(LENGTH);
        typed.toUpperCase(Locale.ROOT)
                .codePoints()
                .filter(c -> !Cells.isBlank(c))
                .forEach(value::appendCodePoint);
        return value.toString();
    }
}
