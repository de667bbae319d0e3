package org.quarterlight.damage;

/** How far a damage has come: open, in hand while a job is about it, closed. */
public enum DamageState {
    OPEN,
    IN_HAND,
    CLOSED
}
