package org.quarterlight.repair;

import java.time.Instant;

/** Why the performer says that its repair has not failed. */
public record Contest(Instant at, String by, String reason) {}
