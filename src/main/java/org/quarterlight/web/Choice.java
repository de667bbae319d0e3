package org.quarterlight.web;

import org.jspecify.annotations.Nullable;

/**
 * One of several things to choose in a form: the value sent, and how it is shown. Plain words and a drawing (a symbol of
 * {@code img/kinds.svg}) stand on tiles.
 */
public record Choice(
        String value,
        String label,
        @Nullable String words,
        @Nullable String drawing) {
    /** For a select or a list of radio buttons. */
    public static Choice of(String value, String label) {
        return new Choice(value, label, null, null);
    }
}
