package org.quarterlight.repair;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/**
 * All that is known of a lot. {@code resin} is the name of the material; it is resin where no kind is named. Blades, films
 * and lamps need no day on which they expire.
 */
public record SaveLot(
        @NotBlank @Size(max = 60) String number,
        @NotBlank @Size(max = 120) String resin,
        @Nullable LocalDate expiresOn,
        @Nullable LocalDate openedOn,
        @Nullable LotKind kind) {}
