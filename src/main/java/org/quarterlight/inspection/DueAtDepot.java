package org.quarterlight.inspection;

import java.util.UUID;

/** How many vehicles of a depot are to be looked at by some day, and how many of them should have been before today. */
public record DueAtDepot(UUID depot, String depotName, long due, long overdue) {}
