package org.quarterlight.repair;

/** How far a job has come. */
public enum JobState {
    REQUESTED,
    APPROVED,
    PLANNED,
    UNDER_WAY,
    INSPECTED,
    CLOSED,
    DECLINED,
    ABANDONED;

    /** Whether nothing more happens to it. */
    public boolean isEnd() {
        return this == CLOSED || this == DECLINED || this == ABANDONED;
    }
}
