package org.quarterlight.inspection;

import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * An inspection that no plan asks for.
 *
 * @param dueOn today where the vehicle's depot is, if left out
 */
public record AskInspection(
        @NotNull UUID vehicleId, @Nullable LocalDate dueOn) {}
