package org.quarterlight.account;

import java.util.UUID;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** A repairer works for a fleet no longer; handled as the fleet. */
public record PartnerEnded(TenantId tenant, UUID repairer, String repairerName) implements TenantEvent {}
