package org.quarterlight.account;

/** How far an agreement between a fleet and a repairer has come. */
public enum PartnerState {
    INVITED,
    ACTIVE,
    ENDED
}
