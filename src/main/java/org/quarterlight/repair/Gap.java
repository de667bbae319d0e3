package org.quarterlight.repair;

/** What can keep a job from being closed, and whether a dispatcher or manager of the performer may answer for it. */
public enum Gap {
    PHOTO_BEFORE(false, "photo"),
    PHOTO_AFTER(false, "photo"),
    /** There is one from before, but it was taken when the resin was in: nobody can go back for another. */
    PHOTO_ORDER(true, "photo"),
    /** Told long after it was done: somebody else than who told it answers for it. */
    LATE(true, "phases"),
    CLOCK(false, "clock"),
    PHASES(true, "phases"),
    TIMES(true, "phases"),
    CURE(false, "phases"),
    CONDITIONS(true, "conditions"),
    GOGGLES(true, "phases"),
    LAMP(true, "phases"),
    LOT(false, "materials"),
    /** Another resin than the method is written for. */
    RESIN(true, "materials"),
    /** It went in before its maker called it back: nobody can take it out of the glass again. */
    LOT_RECALLED(true, "materials"),
    CALIBRATION(false, "calibration"),
    /** Nobody has passed the finished work. */
    INSPECTION(false, "look-over"),
    NOTES(false, "close"),
    RESULT(false, "close");

    private final boolean overridable;
    private final String part;

    Gap(boolean overridable, String part) {
        this.overridable = overridable;
        this.part = part;
    }

    public boolean overridable() {
        return overridable;
    }

    /** Where on the runner's page it is mended. */
    String part() {
        return part;
    }
}
