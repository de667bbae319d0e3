package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No job that the asker is party to has the id. */
public class JobNotFound extends NotFound {
    JobNotFound(UUID id) {
        super("There is no job " + id);
    }
}
