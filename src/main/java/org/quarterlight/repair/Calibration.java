package org.quarterlight.repair;

import java.time.Instant;

/** What was done so that the camera behind new glass sees straight again. */
public record Calibration(String words, Instant at, String by) {}
