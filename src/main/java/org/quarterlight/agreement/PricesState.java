package org.quarterlight.agreement;

/** What became of prices that one side proposed. */
public enum PricesState {
    /** The other side has not answered yet. */
    WAITING,
    /** Both sides want them: they hold from their day on, until later ones do. */
    ACCEPTED,
    /** The other side said no. */
    DECLINED,
    /** Who proposed them took them back. */
    WITHDRAWN
}
