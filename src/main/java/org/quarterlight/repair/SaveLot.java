package org.quarterlight.repair;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/**
 * All that is known of a lot. {@code resin} is the name of the material; it is resin where no kind is named. Blades, films
 * and lamps need no day on which they expire.
 *
 * @param usableDays for how many days it may be used once it is open; null where its sheet says nothing of that
 */
public record SaveLot(
        @NotBlank @Size(max = 60) String number,
        @NotBlank @Size(max = 120) String resin,
        @Nullable LocalDate expiresOn,
        @Nullable LocalDate openedOn,
        @Nullable LotKind kind,
        @Min(1) @Max(3650) @Nullable Integer usableDays) {
    /** One that may be used open until it expires. */
    public SaveLot(
            String number,
            String resin,
            @Nullable LocalDate expiresOn,
            @Nullable LocalDate openedOn,
            @Nullable LotKind kind) {
        this(number, resin, expiresOn, openedOn, kind, null);
    }
}
