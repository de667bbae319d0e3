package org.quarterlight.account;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/** What an organisation may change of itself; what is left out stays. */
public record ChangeOrganisation(
        @Size(max = 120) @Pattern(regexp = "(?s).*\\S.*", message = "must not be blank") @Nullable
        String name,

        @Min(1) @Max(8) @Nullable Integer pattern) {}
