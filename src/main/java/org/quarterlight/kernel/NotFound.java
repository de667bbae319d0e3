package org.quarterlight.kernel;

/** Something asked for is not there, or belongs to another organisation: the answer is the same. Becomes 404. */
public abstract class NotFound extends RuntimeException {
    protected NotFound(String message) {
        super(message);
    }
}
