package org.quarterlight.damage;

import org.quarterlight.eligibility.Verdict;

/** A verdict as it was given, and whether the same facts, sheets and choices give it again today, to the byte. */
public record VerdictAgain(Verdict verdict, Again again) {
    /** What computing it again gave. */
    public enum Again {
        SAME,
        DIFFERENT,
        /** It is from before its facts were kept beside it, or a sheet it names is none that may be seen. */
        UNKNOWN
    }
}
