package org.quarterlight.inspection;

import java.time.LocalDate;

/** How far a vehicle had run on a day where its depot is. */
public record OdometerReading(LocalDate readOn, int km, String readBy) {}
