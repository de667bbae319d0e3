package org.quarterlight.repair;

/** Who pays for a job. */
public enum Payer {
    FLEET,
    INSURER
}
