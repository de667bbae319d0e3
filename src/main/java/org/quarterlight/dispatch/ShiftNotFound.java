package org.quarterlight.dispatch;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No shift of this organisation has the id. */
public class ShiftNotFound extends NotFound {
    ShiftNotFound(UUID id) {
        super("There is no shift " + id);
    }
}
