package org.quarterlight.fleet;

import org.quarterlight.glass.GlassPattern;

/** A vehicle as a list shows it: with the glass that it carries now. */
public record VehicleRow(VehicleView vehicle, String patternName, GlassPattern pattern) {}
