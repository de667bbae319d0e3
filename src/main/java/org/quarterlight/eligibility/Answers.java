package org.quarterlight.eligibility;

import org.jspecify.annotations.Nullable;

/**
 * What the sheets say of one damage. {@code asRepaired} is the grade that would remain if it were a finished repair;
 * {@code acceptable} is asked only of one.
 */
public record Answers(
        Answer roadworthy,
        Answer repairable,
        Answer asRepaired,
        @Nullable Answer acceptable) {}
