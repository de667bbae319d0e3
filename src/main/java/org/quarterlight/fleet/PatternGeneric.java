package org.quarterlight.fleet;

import org.quarterlight.kernel.Refused;

/** A glass to begin with stays as it is; whoever measured a real one makes a pattern of it. */
public class PatternGeneric extends Refused {
    PatternGeneric(String name) {
        super("pattern-generic", name + " is a glass to begin with and stays. Make a pattern of your own from it.");
    }
}
