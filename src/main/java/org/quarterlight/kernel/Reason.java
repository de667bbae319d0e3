package org.quarterlight.kernel;

/** Why somebody does what others will ask about. */
public final class Reason {
    private static final int LONGEST = 500;

    private Reason() {}

    /**
     * The reason without blanks around it.
     *
     * @throws Invalid where there is none, or it is longer than 500 characters
     */
    public static String given(String reason) {
        if (reason.isBlank() || reason.length() > LONGEST) {
            throw new Invalid("reason", "Say why, in up to " + LONGEST + " characters");
        }
        return reason.trim();
    }
}
