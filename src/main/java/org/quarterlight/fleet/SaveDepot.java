package org.quarterlight.fleet;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * All that is known of a depot. Without opening hours it is open Monday to Friday, 8 to 17.
 *
 * @param closedOn days on which it is closed whatever the hours say, such as holidays
 */
public record SaveDepot(
        @NotBlank @Size(max = 120) String name,
        @Size(max = 500) @Nullable String address,
        @NotNull @DecimalMin("-90") @DecimalMax("90") BigDecimal latitude,
        @NotNull @DecimalMin("-180") @DecimalMax("180") BigDecimal longitude,
        @NotBlank String zone,

        @NotBlank @Pattern(regexp = "[A-Z]{2}", message = "is not a country code of two capitals, such as GB")
        String country,

        @Size(max = 10) @Nullable String subdivision,
        @Nullable OpeningHours openingHours,
        @Min(0) @Max(10000) @Nullable Integer coveredBays,
        @Size(max = 300) @Nullable String contact,
        @Size(max = 400) @Nullable Set<@NotNull LocalDate> closedOn) {
    /** A depot that is closed on no day of its own. */
    public SaveDepot(
            String name,
            @Nullable String address,
            BigDecimal latitude,
            BigDecimal longitude,
            String zone,
            String country,
            @Nullable String subdivision,
            @Nullable OpeningHours openingHours,
            @Nullable Integer coveredBays,
            @Nullable String contact) {
        this(name, address, latitude, longitude, zone, country, subdivision, openingHours, coveredBays, contact, null);
    }

    /** A depot as it is, to change from. */
    public static SaveDepot of(DepotView depot) {
        return new SaveDepot(
                depot.name(),
                depot.address(),
                depot.latitude(),
                depot.longitude(),
                depot.zone().getId(),
                depot.country(),
                depot.subdivision(),
                depot.openingHours(),
                depot.coveredBays(),
                depot.contact(),
                depot.closedOn());
    }
}
