package org.quarterlight.damage;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No preview has the id, or it was swept away. */
public class PreviewNotFound extends NotFound {
    PreviewNotFound(UUID id) {
        super("There is no preview " + id);
    }
}
