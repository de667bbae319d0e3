package org.quarterlight.web;

/** A parameter that is on when it is there: {@code ?mine}, {@code ?mine=true}; off when it says {@code false}. */
public record Flag(boolean on) {
    static Flag read(String text) {
        return switch (text.trim()) {
            case "", "true" -> new Flag(true);
            case "false" -> new Flag(false);
            default -> throw new IllegalArgumentException("is neither true nor false");
        };
    }
}
