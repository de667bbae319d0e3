package org.quarterlight.fleet.list;

/** A cell's text as a value, or why it is none. */
sealed interface Parsed<T> {
    record Value<T>(T value) implements Parsed<T> {}

    /** The value, and a clause about something that was taken for granted. */
    record Doubtful<T>(T value, String warning) implements Parsed<T> {}

    /** The reason is a clause that follows the heading. */
    record Wrong<T>(String reason) implements Parsed<T> {}

    /** What was typed, short enough for a sentence. */
    static String quoted(String text) {
        var line = text.replaceAll("\\s+", " ");
        return "“" + (line.length() > 40 ? line.substring(0, 39) + "…" : line) + "”";
    }
}
