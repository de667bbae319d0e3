package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.bench.Method;

/** The method that a job is done by, as it was when the job began, with the version that it had. */
public record JobMethod(UUID id, int version, Method method) {}
