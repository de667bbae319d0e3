package org.quarterlight.damage;

import java.util.UUID;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** Somebody reported a damage, and this is what came of it. */
public record DamageReported(TenantId tenant, UUID damage, UUID vehicle, Outcome outcome) implements TenantEvent {}
