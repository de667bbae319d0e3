package org.quarterlight.fleet;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No picture of this organisation has the id. */
public class PatternPictureNotFound extends NotFound {
    PatternPictureNotFound(UUID id) {
        super("There is no picture " + id);
    }
}
