package org.quarterlight.repair;

/** Why stock changes. */
public enum StockMove {
    RECEIVED,
    USED,
    /** To another place. */
    SENT,
    /** From another place. */
    ARRIVED,
    COUNTED
}
