package org.quarterlight.dispatch.web;

import org.springframework.stereotype.Component;

/** How a length of time stands on pages of a day; templates call it as {@code @minutes}. */
@Component("minutes")
public class Minutes {
    /** {@code 12 min}, {@code 1 h}, {@code 2 h 05}. */
    public String of(int minutes) {
        return words(minutes);
    }

    static String words(int minutes) {
        return minutes < 60 ? minutes + " min" : BoardDrawing.minutes(minutes);
    }
}
