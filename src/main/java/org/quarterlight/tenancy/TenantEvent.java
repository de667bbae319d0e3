package org.quarterlight.tenancy;

/**
 * An event about one organisation's rows. Its listeners run as that organisation, whoever published it. Events are kept
 * as JSON until heard: they hold ids and facts, and change by added fields only.
 */
public interface TenantEvent {
    /** Whose rows the event is about. */
    TenantId tenant();
}
