package org.quarterlight.damage;

/** How far a preview of a sheet has come. */
public enum PreviewState {
    RUNNING,
    DONE,
    CANCELLED,
    /** Something failed on our side. */
    FAILED,
    /** The service that worked on it was stopped. */
    INTERRUPTED;

    public boolean ended() {
        return this != RUNNING;
    }
}
