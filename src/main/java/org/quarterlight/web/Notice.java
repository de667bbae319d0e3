package org.quarterlight.web;

import java.io.Serializable;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * One sentence about what has just happened, with at most one way on from it. A controller leaves it for the next page
 * as the flash attribute {@code notice}, which the session keeps; hence serialisable.
 *
 * @param asks whether the way on changes something and is therefore sent as a form, as Undo is
 */
public record Notice(
        Kind kind,
        String sentence,
        @Nullable String label,
        @Nullable String href,
        boolean asks) implements Serializable {
    /** What a notice is about. */
    public enum Kind {
        DONE,
        FAILED,
        INFO
    }

    /** It is done. */
    public static Notice done(String sentence) {
        return new Notice(Kind.DONE, sentence, null, null, false);
    }

    /** It failed, and nothing was changed. */
    public static Notice failed(String sentence) {
        return new Notice(Kind.FAILED, sentence, null, null, false);
    }

    /** Good to know. */
    public static Notice info(String sentence) {
        return new Notice(Kind.INFO, sentence, null, null, false);
    }

    /** With a link to a page: "See them". */
    public Notice leadingTo(String label, String href) {
        return new Notice(kind, sentence, label, href, false);
    }

    /** With a button that changes something: "Undo". */
    public Notice offering(String label, String action) {
        return new Notice(kind, sentence, label, action, true);
    }

    /** The kind in lower case, as the stylesheet names it. */
    public String word() {
        return kind.name().toLowerCase(Locale.ROOT);
    }
}
