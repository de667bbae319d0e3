package org.quarterlight.glass;

/** What is wrong with one measurement of a glass, for beside its field. */
public record MeasurementProblem(String field, String message) {}
