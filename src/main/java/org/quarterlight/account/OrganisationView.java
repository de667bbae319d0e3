package org.quarterlight.account;

import java.time.Instant;
import java.util.UUID;
import org.quarterlight.tenancy.OrganisationKind;

/**
 * An organisation as others see it.
 *
 * @param country ISO 3166-1 alpha-2
 * @param pattern which of the eight stripe patterns marks its pages, 1 to 8
 */
public record OrganisationView(
        UUID id, OrganisationKind kind, String name, String country, int pattern, Instant createdAt, int version) {}
