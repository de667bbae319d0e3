package org.quarterlight.fleet;

/** A vehicle as a list shows it: with the name of the glass that it carries now. */
public record VehicleRow(VehicleView vehicle, String patternName) {}
