package org.quarterlight.inspection;

import org.quarterlight.kernel.Refused;

/** A plan that asks for nothing any more stays as it was. */
public class PlanRetired extends Refused {
    PlanRetired(String name) {
        super("plan-retired", "The plan " + name + " is retired");
    }
}
