package org.quarterlight.repair;

import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A partner that a job could be given to.
 *
 * @param against why it is not for them, null where nothing speaks against it
 */
public record ShareChoice(
        UUID partner, UUID repairer, String name, @Nullable String against) {}
