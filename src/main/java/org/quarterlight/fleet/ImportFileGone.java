package org.quarterlight.fleet;

import org.quarterlight.kernel.Refused;

/** A list is kept for two days only. */
public class ImportFileGone extends Refused {
    ImportFileGone(String fileName) {
        super("list-gone", fileName + " was sent too long ago. Send it again.");
    }
}
