package org.quarterlight.damage;

import java.util.UUID;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/**
 * A fleet is being judged by rules that were chosen anew, and this far it has come. Said in the transaction of the glasses
 * judged last, so that a stopped service goes on from there and judges none twice.
 *
 * @param version of the choice; where it is no longer the present one, a later judging has taken over
 * @param after the windscreen judged last
 */
record JudgingGoesOn(TenantId tenant, int version, UUID after) implements TenantEvent {}
