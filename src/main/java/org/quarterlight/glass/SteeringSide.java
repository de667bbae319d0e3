package org.quarterlight.glass;

/**
 * Where the steering wheel is, as the driver sits. The glass frame looks from outside, so a wheel on the left lies at
 * positive x.
 */
public enum SteeringSide {
    LEFT,
    RIGHT;

    /** The sign of x on the driver's half of the glass. */
    int sign() {
        return this == LEFT ? 1 : -1;
    }

    public SteeringSide opposite() {
        return this == LEFT ? RIGHT : LEFT;
    }
}
