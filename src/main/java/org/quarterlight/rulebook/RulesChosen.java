package org.quarterlight.rulebook;

import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** The organisation judges by something else from now on; what was judged is to be judged again. */
public record RulesChosen(TenantId tenant, int version) implements TenantEvent {}
