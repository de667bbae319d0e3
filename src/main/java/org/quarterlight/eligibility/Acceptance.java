package org.quarterlight.eligibility;

import java.util.List;

/** Whether a finished repair is good enough, and why. */
public record Acceptance(Answer answer, List<Finding> findings) {
    public Acceptance {
        findings = List.copyOf(findings);
    }
}
