package org.quarterlight.damage;

import java.util.UUID;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.glass.DamageKind;

/** A damage behind one cell of a preview. */
public record PreviewedDamage(
        UUID damage, UUID vehicle, String registration, int number, DamageKind kind, Outcome from, Outcome to) {}
