package org.quarterlight.fleet;

import org.quarterlight.kernel.Refused;

/** More lists are waiting than the service takes in. */
public class ImportsBusy extends Refused {
    ImportsBusy() {
        super("imports-busy", "Too many lists are waiting. Send yours again in a few minutes.");
    }
}
