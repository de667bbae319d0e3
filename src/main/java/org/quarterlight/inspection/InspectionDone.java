package org.quarterlight.inspection;

import org.quarterlight.kernel.Refused;

/** What an inspection found is never changed; another look is another inspection. */
public class InspectionDone extends Refused {
    InspectionDone(String registration) {
        super("inspection-done", "This inspection of " + registration + " is done");
    }
}
