package org.quarterlight.damage;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No photo that the asker may see has the id. */
public class PhotoNotFound extends NotFound {
    PhotoNotFound(UUID id) {
        super("There is no photo " + id);
    }
}
