package org.quarterlight.kernel;

/**
 * Well-formed input that the domain cannot take, with the field it stands in: what only the database or a calculation
 * can tell, such as a registration that is taken. Becomes 422, or a message beside the field.
 */
public final class Invalid extends RuntimeException {
    private final String field;

    public Invalid(String field, String message) {
        super(message);
        this.field = field;
    }

    /** The field as the command and the form name it. */
    public String field() {
        return field;
    }

    /** In words for the person who typed it. */
    public String problem() {
        return String.valueOf(getMessage());
    }
}
