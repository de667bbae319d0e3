package org.quarterlight.fleet;

/** How far an import has come. */
public enum ImportState {
    WAITING,
    RUNNING,
    DONE,
    /** Nothing was taken: the list cannot be read, or a row was bad and all or nothing was asked for. */
    REFUSED,
    /** The service that worked on it is gone. What it told is there; the list may be sent again. */
    INTERRUPTED;

    public boolean ended() {
        return this != WAITING && this != RUNNING;
    }
}
