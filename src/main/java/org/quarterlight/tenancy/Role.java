package org.quarterlight.tenancy;

/** What a person may do in an organisation. */
public enum Role {
    DRIVER,
    MANAGER,
    DISPATCHER,
    TECHNICIAN,
    ADMINISTRATOR,
    /** Of the platform: sees no organisation's data. */
    OPERATOR,
    /** Nobody by name: whoever holds a vehicle's cab code may report for that vehicle. */
    CAB_CODE;

    /** The authority that security expressions ask for. */
    public String authority() {
        return "ROLE_" + name();
    }
}
