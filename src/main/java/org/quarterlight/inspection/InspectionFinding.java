package org.quarterlight.inspection;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Grade;

/**
 * What an inspection found of one damage.
 *
 * @param number the damage's on its glass
 */
public record InspectionFinding(
        UUID damage,
        int number,
        InspectionAnswer answer,
        @Nullable GoneAs goneAs,
        String reason,
        @Nullable Grade found) {}
