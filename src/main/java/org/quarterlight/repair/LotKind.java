package org.quarterlight.repair;

/** What comes in lots. */
public enum LotKind {
    RESIN,
    PIT_FILLER,
    ADHESIVE,
    FILM,
    BLADE,
    CLEANER,
    OTHER
}
