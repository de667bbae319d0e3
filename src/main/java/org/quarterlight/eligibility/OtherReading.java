package org.quarterlight.eligibility;

/** A shipped sheet that reads the same source otherwise, by its id, and what it says instead. */
public record OtherReading(String sheet, String says) {}
