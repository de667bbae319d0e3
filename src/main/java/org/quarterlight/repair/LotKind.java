package org.quarterlight.repair;

/** What comes in lots. */
public enum LotKind {
    RESIN(Unit.ML, true),
    PIT_FILLER(Unit.ML, true),
    ADHESIVE(Unit.PIECES, true),
    FILM(Unit.PIECES, false),
    BLADE(Unit.PIECES, false),
    CLEANER(Unit.ML, true),
    LAMP(Unit.PIECES, false),
    OTHER(Unit.PIECES, true);

    /** What it is counted in, so that lots of a kind can be added up. */
    public enum Unit {
        ML,
        PIECES
    }

    private final Unit unit;
    private final boolean expires;

    LotKind(Unit unit, boolean expires) {
        this.unit = unit;
        this.expires = expires;
    }

    public Unit unit() {
        return unit;
    }

    /** Whether a lot of it must name a day. */
    public boolean expires() {
        return expires;
    }
}
