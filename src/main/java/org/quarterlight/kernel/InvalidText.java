package org.quarterlight.kernel;

import java.util.List;

/**
 * A text that somebody wrote by hand and the domain cannot take, with everything that is wrong with it: line, field and
 * what is wrong there. Becomes 422.
 */
public final class InvalidText extends RuntimeException {
    private final transient List<Mistake> mistakes;

    public InvalidText(String message, List<Mistake> mistakes) {
        super(message);
        this.mistakes = List.copyOf(mistakes);
    }

    public List<Mistake> mistakes() {
        return mistakes;
    }

    /** One thing that is wrong; lines are counted from 1. */
    public record Mistake(String field, int line, String message) {}
}
