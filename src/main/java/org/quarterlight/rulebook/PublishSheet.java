package org.quarterlight.rulebook;

import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;

/** Publishes a draft: from the beginning of this day, where the organisation is, it judges. */
public record PublishSheet(@NotNull LocalDate validFrom) {}
