package org.quarterlight.rulebook;

import org.quarterlight.kernel.Refused;

/** A sheet has one draft at a time. */
public class DraftThere extends Refused {
    DraftThere(String name) {
        super("draft-there", name + " has a draft already. Change that one, or publish it.");
    }
}
