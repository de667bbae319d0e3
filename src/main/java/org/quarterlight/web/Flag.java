package org.quarterlight.web;

import org.jspecify.annotations.Nullable;

/** A parameter that is on when it is there: {@code ?mine}, {@code ?mine=true}; off when it says {@code false}. */
public record Flag(boolean on) {
    /** Null where the parameter was not given, so that nothing is asked of it. */
    public static @Nullable Boolean on(@Nullable Flag flag) {
        return flag == null ? null : flag.on;
    }

    static Flag read(String text) {
        return switch (text.trim()) {
            case "", "true" -> new Flag(true);
            case "false" -> new Flag(false);
            default -> throw new IllegalArgumentException("is neither true nor false");
        };
    }
}
