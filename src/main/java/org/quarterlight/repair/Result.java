package org.quarterlight.repair;

/** How a job came out. */
public enum Result {
    /** Level with the glass, clear, hardly to be found. */
    GOOD,
    /** Sound, and still to be seen. */
    VISIBLE,
    /** New glass was fitted. */
    REPLACED
}
