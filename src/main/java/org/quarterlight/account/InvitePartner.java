package org.quarterlight.account;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Offers a repairer to work for the fleet. The repairer tells the fleet its number, which its settings page shows. */
public record InvitePartner(
        @NotNull UUID repairer, @Size(max = 2000) @Nullable String terms) {}
