package org.quarterlight.glass;

/** A corner of a traced outline, in the glass frame. */
public record OutlineCorner(double xMm, double yMm) {}
