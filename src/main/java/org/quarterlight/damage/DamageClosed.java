package org.quarterlight.damage;

import org.quarterlight.kernel.Refused;

/** What is closed stays as it is. */
public class DamageClosed extends Refused {
    DamageClosed(int number) {
        super("damage-closed", "Damage " + number + " is closed already");
    }
}
