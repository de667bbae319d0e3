package org.quarterlight.bench;

import java.time.ZoneId;

/** Where the vehicle stands, in degrees north and east, and how steep its glass is. */
public record Workplace(double latitude, double longitude, ZoneId zone, double rakeDegrees) {}
