package org.quarterlight.repair;

import java.util.EnumSet;
import java.util.Locale;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.web.Words;

/** What comes in lots. */
public enum LotKind {
    RESIN(Unit.ML, true, EnumSet.of(Work.REPAIR), EnumSet.of(PhaseKind.INJECT, PhaseKind.PIT_FILL)),
    PIT_FILLER(Unit.ML, true, EnumSet.of(Work.REPAIR), EnumSet.of(PhaseKind.PIT_FILL)),
    ADHESIVE(Unit.PIECES, true, EnumSet.of(Work.REPLACEMENT), EnumSet.noneOf(PhaseKind.class)),
    FILM(Unit.PIECES, false, EnumSet.of(Work.REPAIR), EnumSet.of(PhaseKind.PIT_FILL, PhaseKind.CURE)),
    BLADE(Unit.PIECES, false, EnumSet.allOf(Work.class), EnumSet.of(PhaseKind.FINISH)),
    CLEANER(Unit.ML, true, EnumSet.allOf(Work.class), EnumSet.of(PhaseKind.CLEAN, PhaseKind.LOOK_OVER)),
    LAMP(Unit.PIECES, false, EnumSet.of(Work.REPAIR), EnumSet.of(PhaseKind.CURE)),
    OTHER(Unit.PIECES, true, EnumSet.allOf(Work.class), EnumSet.noneOf(PhaseKind.class));

    /** What it is counted in, so that lots of a kind can be added up. */
    public enum Unit {
        ML,
        PIECES
    }

    private final Unit unit;
    private final boolean expires;
    private final Set<Work> works;
    private final Set<PhaseKind> phases;

    LotKind(Unit unit, boolean expires, Set<Work> works, Set<PhaseKind> phases) {
        this.unit = unit;
        this.expires = expires;
        this.works = works;
        this.phases = phases;
    }

    /** Whether it may go into such a job. */
    public boolean goesInto(Work work) {
        return works.contains(work);
    }

    /** Whether such a phase needs it. */
    public boolean isFor(@Nullable PhaseKind phase) {
        return phase != null && phases.contains(phase);
    }

    String refusal(Work work) {
        var word = Words.spoken(this);
        return word.substring(0, 1).toUpperCase(Locale.ROOT)
                + word.substring(1)
                + (work == Work.REPAIR ? " goes into no repair" : " goes into no new glass");
    }

    public Unit unit() {
        return unit;
    }

    /** Whether a lot of it must name a day. */
    public boolean expires() {
        return expires;
    }
}
