package org.quarterlight.repair;

import java.util.UUID;

/** Whoever does this job is at another one, and a method of the two leaves no time for that. */
public class JobsOverlap extends JobRefused {
    private final UUID other;
    private final int otherNumber;

    JobsOverlap(UUID other, int otherNumber, String message) {
        super("jobs-overlap", message);
        this.other = other;
        this.otherNumber = otherNumber;
    }

    /** The job that they are at. */
    public UUID other() {
        return other;
    }

    public int otherNumber() {
        return otherNumber;
    }
}
