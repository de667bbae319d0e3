package org.quarterlight.dispatch;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.LocalTime;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** All that is known of a van. Without a shift it is out from 8 to 17. */
public record SaveVan(
        @NotBlank @Size(max = 60) String name,
        @Size(max = 200) @Nullable String base,
        @NotNull @DecimalMin("-90") @DecimalMax("90") BigDecimal latitude,
        @NotNull @DecimalMin("-180") @DecimalMax("180") BigDecimal longitude,
        @NotBlank String zone,
        @Nullable UUID technician,
        @Nullable LocalTime startsAt,
        @Nullable LocalTime endsAt) {
    /** As it is, for a change of some of it. */
    public static SaveVan of(VanView van) {
        return new SaveVan(
                van.name(),
                van.base(),
                van.latitude(),
                van.longitude(),
                van.zone().getId(),
                van.technician(),
                van.startsAt(),
                van.endsAt());
    }
}
