package org.quarterlight.repair;

/** What a job does with the glass. */
public enum Work {
    REPAIR,
    REPLACEMENT
}
