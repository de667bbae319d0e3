package org.quarterlight.glass;

/** A length that somebody measured on the glass, and where its ends lie on a picture of it: y grows downwards there. */
public record KnownLength(double fromXPx, double fromYPx, double toXPx, double toYPx, double lengthMm) {
    double lengthPx() {
        return Math.hypot(toXPx - fromXPx, toYPx - fromYPx);
    }

    KnownLength turnedRound() {
        return new KnownLength(toXPx, toYPx, fromXPx, fromYPx, lengthMm);
    }
}
