package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** The present organisation performed nothing with this charge. */
public class ChargeNotFound extends NotFound {
    ChargeNotFound(UUID id) {
        super("There is no charge " + id);
    }
}
