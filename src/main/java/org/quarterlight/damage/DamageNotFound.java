package org.quarterlight.damage;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No damage that the asker may see has the id. */
public class DamageNotFound extends NotFound {
    DamageNotFound(UUID id) {
        super("There is no damage " + id);
    }
}
