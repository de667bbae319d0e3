package org.quarterlight.tenancy;

/** What an organisation does here: it owns vehicles, repairs for those who do, or runs the platform. */
public enum OrganisationKind {
    FLEET,
    REPAIRER,
    PLATFORM
}
