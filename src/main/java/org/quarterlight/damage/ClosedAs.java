package org.quarterlight.damage;

/** How a damage ended. */
public enum ClosedAs {
    REPAIRED,
    REPLACED,
    WITHDRAWN
}
