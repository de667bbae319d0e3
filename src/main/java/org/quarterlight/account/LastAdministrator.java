package org.quarterlight.account;

import org.quarterlight.kernel.Refused;

/** Without an administrator nobody could ever let anybody in again. */
public class LastAdministrator extends Refused {
    LastAdministrator() {
        super("last-administrator", "An organisation keeps at least one administrator");
    }
}
