package org.quarterlight.fleet;

import java.util.UUID;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** The glass is another than was thought; its damages are to be judged again. */
public record GlassCorrected(TenantId tenant, UUID vehicle, UUID windscreen) implements TenantEvent {}
