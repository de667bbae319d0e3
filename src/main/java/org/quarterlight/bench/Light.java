package org.quarterlight.bench;

/** What stands between the glass and the sky. What somebody sees outweighs what is computed. */
public enum Light {
    /** Nothing: whether the sun falls on the glass is computed. */
    OPEN,
    /** Direct sun was seen on the glass. */
    SUN,
    /** In shade or under an awning; rain may still come. */
    SHADE,
    /** Under a roof: neither sun nor rain. */
    COVERED
}
