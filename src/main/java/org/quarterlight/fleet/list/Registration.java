package org.quarterlight.fleet.list;

import java.text.Normalizer;
import java.util.Locale;
import java.util.Optional;

/**
 * A vehicle's registration. Two of them are the same vehicle's when their keys are equal. Hyphens belong to the key,
 * because in some countries they part the district from the rest and decide which vehicle it is.
 *
 * @param key upper case, no blanks
 * @param shown as it was typed, with single blanks
 */
public record Registration(String key, String shown) {
    private static final int MAX_LENGTH = 16;

    /** Reads what was typed; ask {@link #problemOf} first where it may be wrong. */
    public static Registration of(String typed) {
        problemOf(typed).ifPresent(problem -> {
            throw new IllegalArgumentException(typed + " " + problem);
        });
        var shown = singleBlanks(typed);
        return new Registration(keyOf(shown), shown);
    }

    /** The key of something typed, for a search; whether it is a registration is not asked. */
    public static String keyOf(String typed) {
        var key = new StringBuilder(typed.length());
        Normalizer.normalize(typed, Normalizer.Form.NFC)
                .toUpperCase(Locale.ROOT)
                .codePoints()
                .filter(c -> !Cells.isBlank(c))
                .map(c -> Character.getType(c) == Character.DASH_PUNCTUATION ? '-' : c)
                .forEach(key::appendCodePoint);
        return key.toString();
    }

    /** Why this cannot be a registration, as a clause; empty where it can. */
    public static Optional<String> problemOf(String typed) {
        var key = keyOf(typed);
        if (key.isEmpty()) {
            return Optional.of("is missing");
        }
        var strange = key.codePoints()
                .filter(c -> !Character.isLetterOrDigit(c) && "-.·".indexOf(c) < 0)
                .findFirst();
        if (strange.isPresent()) {
            return Optional.of("has “" + Character.toString(strange.getAsInt()) + "”, which no registration has");
        }
        if (key.length() > MAX_LENGTH) {
            return Optional.of("has " + key.length() + " characters, a registration has at most " + MAX_LENGTH);
        }
        return key.codePoints().anyMatch(Character::isLetterOrDigit)
                ? Optional.empty()
                : Optional.of("has neither letters nor digits");
    }

    private static String singleBlanks(String typed) {
        var shown = new StringBuilder(typed.length());
        Normalizer.normalize(typed, Normalizer.Form.NFC).codePoints().forEach(c -> {
            if (!Cells.isBlank(c)) {
                shown.appendCodePoint(c);
            } else if (!shown.isEmpty() && shown.charAt(shown.length() - 1) != ' ') {
                shown.append(' ');
            }
        });
        return shown.toString().strip();
    }
}
