package org.quarterlight.account;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.Role;

/** Asks for a key. Without roles it gets all that its maker has, without days it lives 90. */
public record CreateToken(
        @NotBlank @Size(max = LONGEST_NAME) String name,
        @Min(1) @Max(366) @Nullable Integer expiresInDays,
        @Nullable Set<@NotNull Role> roles) {
    public static final int LONGEST_NAME = 120;
}
