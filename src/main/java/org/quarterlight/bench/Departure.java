package org.quarterlight.bench;

/**
 * Where a record does not follow its method.
 *
 * @param what kind of departure it is
 * @param phase the phase it is about
 */
public record Departure(What what, PhaseKind phase, String sentence) {
    /** The kinds of departure. */
    public enum What {
        /** A clock still runs. */
        RUNNING,
        /** A required phase was never done. */
        MISSING,
        /** Done before what has to come first, or not once more after it. */
        ORDER,
        /** Too short, too long, too few cycles, too little rest. */
        TIME,
        /** Too short under the lamp. */
        CURE
    }
}
