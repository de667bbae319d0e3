package org.quarterlight.repair;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;

/** All that is known of a place. */
public record SaveStockPlace(
        @NotBlank @Size(max = 60) String name, @NotNull StockPlaceKind kind) {}
