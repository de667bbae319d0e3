package org.quarterlight.rulebook;

import org.quarterlight.kernel.Refused;

/** All sheets are shown on one page and offered in one choice, so there is an end to them. */
public class TooManySheets extends Refused {
    TooManySheets(int most) {
        super("too-many-sheets", "There are " + most + " sheets of your own already. Change one of those.");
    }
}
