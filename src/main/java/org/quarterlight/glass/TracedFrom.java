package org.quarterlight.glass;

/** What an outline was traced over. */
public enum TracedFrom {
    /** Of the glass, taken as square-on as may be. */
    PHOTO,
    /** To scale, without perspective. */
    DRAWING
}
