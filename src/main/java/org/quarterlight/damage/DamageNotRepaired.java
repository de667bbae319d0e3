package org.quarterlight.damage;

import org.quarterlight.kernel.Refused;

/** Only a finished repair can fail afterwards. */
public final class DamageNotRepaired extends Refused {
    DamageNotRepaired(int number) {
        super("damage-not-repaired", "Damage " + number + " is not repaired, so no repair of it can have failed");
    }
}
