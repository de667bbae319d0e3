package org.quarterlight.web;

import java.io.Serializable;
import org.jspecify.annotations.Nullable;

/**
 * One sentence above a page about what just happened; given to the next page as the flash attribute {@code notice}.
 *
 * @param href where the one link leads, null without a link
 */
public record Notice(
        String kind,
        String sentence,
        @Nullable String link,
        @Nullable String href) implements Serializable {
    public static Notice done(String sentence) {
        return new Notice("done", sentence, null, null);
    }

    public static Notice done(String sentence, String link, String href) {
        return new Notice("done", sentence, link, href);
    }

    public static Notice failed(String sentence) {
        return new Notice("failed", sentence, null, null);
    }
}
