package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.eligibility.FinishedAsks;
import org.quarterlight.glass.DamageKind;

/** What the look over has to say of one damage of the job, for the acceptance sheets of its brief. */
public record AskedOfFinished(UUID damage, int number, DamageKind kind, FinishedAsks asks) {}
