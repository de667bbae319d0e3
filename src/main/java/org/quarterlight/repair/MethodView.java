package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.bench.Method;

/**
 * A method that jobs can be done by.
 *
 * @param shipped comes with the service, and is nobody's to change
 */
public record MethodView(UUID id, Method method, boolean shipped, boolean retired, int version) {}
