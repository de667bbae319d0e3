package org.quarterlight.inspection;

import org.quarterlight.kernel.Refused;

/** Asking twice makes no second inspection. */
public class InspectionAsked extends Refused {
    InspectionAsked(String registration) {
        super("inspection-asked", "An inspection of " + registration + " is asked for already");
    }
}
