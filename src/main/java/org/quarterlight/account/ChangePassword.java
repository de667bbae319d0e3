package org.quarterlight.account;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;

/** Replaces one's own password, proved by the present one. */
public record ChangePassword(
        @NotBlank @Size(max = 200) String present,
        @NotBlank @Size(min = 10, max = 72) String next) {}
