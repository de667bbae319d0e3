package org.quarterlight.rulebook;

/** Whether a version of a sheet may still be changed. */
public enum SheetState {
    DRAFT,
    PUBLISHED
}
