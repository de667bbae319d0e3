package org.quarterlight.glass;

import java.util.Locale;

/** What an impact left in the glass, in the words of the trade. */
public enum DamageKind {
    /** A small crater, glass missing, nothing running from it. */
    PIT,
    /** A round cone below the crater. */
    BULLSEYE,
    /** A cone that is not closed. */
    HALF_MOON,
    /** Legs running from the crater. */
    STAR_BREAK,
    /** A cone with legs. */
    COMBINATION_BREAK,
    /** A line, longer than wide. */
    CRACK,
    /** Whoever reported it could not tell. */
    NOT_SURE;

    /** As people say it: "half-moon", "star break". */
    public String spoken() {
        return this == HALF_MOON ? "half-moon" : name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }
}
