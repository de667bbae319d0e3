package org.quarterlight.rulebook;

import org.quarterlight.kernel.Refused;

/** What judges or will judge does not change any more. */
public class SheetPublished extends Refused {
    SheetPublished(String name) {
        super("sheet-published", name + " is published and does not change any more. Start a new version of it.");
    }
}
