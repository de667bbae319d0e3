package org.quarterlight.damage;

import org.quarterlight.kernel.Refused;

/** A job is about it; the job decides what becomes of it. */
public class DamageInHand extends Refused {
    DamageInHand(int number) {
        super("damage-in-hand", "A job is about damage " + number + " already");
    }
}
