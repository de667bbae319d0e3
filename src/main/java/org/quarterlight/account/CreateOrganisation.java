package org.quarterlight.account;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.OrganisationKind;

/** A new organisation with its first administrator. Without a pattern it gets one in turn. */
public record CreateOrganisation(
        @NotNull OrganisationKind kind,
        @NotBlank @Size(max = 120) String name,

        @NotBlank @Pattern(regexp = "[A-Z]{2}", message = "is not a country code of two capitals, such as GB")
        String country,

        @Min(1) @Max(8) @Nullable Integer pattern,
        @NotNull @Valid AddMember administrator) {}
