package org.quarterlight.repair;

/** What a photo of a job shows. */
public enum PhotoShows {
    BEFORE,
    AFTER,
    OTHER
}
