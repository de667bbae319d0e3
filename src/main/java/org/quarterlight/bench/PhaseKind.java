package org.quarterlight.bench;

/** The steps of a repair record, in their usual order. Pressure and vacuum repeat. */
public enum PhaseKind {
    PREPARE,
    OPEN,
    CLEAN,
    MOUNT,
    INJECT,
    PRESSURE,
    VACUUM,
    PIT_FILL,
    CURE,
    FINISH,
    LOOK_OVER
}
