package org.quarterlight.fleet;

/** What to do with a list of vehicles. */
public enum ImportMode {
    /** Look only. */
    PREVIEW,
    /** Take the good rows, keep the bad ones for download. */
    GOOD_ROWS,
    /** Take all rows, or none where one is bad. */
    ALL_OR_NOTHING
}
