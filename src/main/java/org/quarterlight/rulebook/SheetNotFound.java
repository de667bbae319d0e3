package org.quarterlight.rulebook;

import org.quarterlight.kernel.NotFound;

/** No sheet has the id. */
public class SheetNotFound extends NotFound {
    SheetNotFound(String id) {
        super("There is no rule sheet " + id);
    }
}
