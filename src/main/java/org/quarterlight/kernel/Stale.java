package org.quarterlight.kernel;

/** Somebody else changed it since it was read. Becomes 412, or a page that keeps what was typed. */
public final class Stale extends RuntimeException {
    public Stale(String what) {
        super(what + " was changed by somebody else since you opened it");
    }

    /** Refuses a change made from another version than the present one. */
    public static void check(String what, int expected, int present) {
        if (expected != present) {
            throw new Stale(what);
        }
    }
}
