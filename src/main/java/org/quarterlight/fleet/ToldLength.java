package org.quarterlight.fleet;

/** What no outline tells of a glass: only somebody who measures it, or who says that it is taken from another glass. */
public enum ToldLength {
    RAKE,
    WHEEL,
    EYE,
    EDGE_BAND,
    WIPERS,
    CAMERA_AREA
}
