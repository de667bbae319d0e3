package org.quarterlight.fleet;

import org.quarterlight.glass.TracedOutline;

/** An outline in millimetres, and how it was found: both as a pattern takes them. */
public record TraceView(TracedOutline outline, PatternTrace trace) {}
