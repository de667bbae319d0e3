package org.quarterlight.kernel;

/**
 * The domain says no, in words for the person who asked. Becomes 409, or a notice on the page. The code names the kind
 * of refusal and becomes the problem's type.
 */
public abstract class Refused extends RuntimeException {
    private final String code;

    protected Refused(String code, String message) {
        super(message);
        this.code = code;
    }

    /** Lower case with hyphens, {@code damage-closed}. */
    public String code() {
        return code;
    }
}
