package org.quarterlight.eligibility;

/** A grade, or that none is certain: the column heads of the outcome table. */
enum Standing {
    NONE,
    MINOR,
    MAJOR,
    DANGEROUS,
    UNCLEAR;

    static Standing of(Answer answer) {
        if (answer.result() == Result.UNCLEAR || answer.grade() == null) {
            return UNCLEAR;
        }
        return switch (answer.grade()) {
            case NONE -> NONE;
            case MINOR -> MINOR;
            case MAJOR -> MAJOR;
            case DANGEROUS -> DANGEROUS;
        };
    }
}
