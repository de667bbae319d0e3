package org.quarterlight.rulebook;

import org.quarterlight.kernel.Refused;

/** A sheet that comes with the service is nobody's to change. */
public class SheetShipped extends Refused {
    SheetShipped(String name) {
        super(
                "sheet-shipped",
                name + " comes with the service and does not change. Start a sheet of your own from it.");
    }
}
