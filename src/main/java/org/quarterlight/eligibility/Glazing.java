package org.quarterlight.eligibility;

import org.quarterlight.glass.GlassPattern;

/** One glass in one vehicle. */
public record Glazing(GlassPattern pattern, PatternReference reference, VehicleFacts vehicle) {}
