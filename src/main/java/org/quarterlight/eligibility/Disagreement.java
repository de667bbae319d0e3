package org.quarterlight.eligibility;

import org.jspecify.annotations.Nullable;

/**
 * That sources disagree, and which of their readings a sheet takes.
 *
 * @param on what they disagree on, to follow "Sources disagree on"
 * @param reading what this sheet takes
 * @param startsBecause why an organisation starts with this reading; null for those that it may choose instead
 */
public record Disagreement(
        String on, String reading, @Nullable String startsBecause) {}
