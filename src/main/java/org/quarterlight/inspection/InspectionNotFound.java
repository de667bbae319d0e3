package org.quarterlight.inspection;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** There is no such inspection. */
public class InspectionNotFound extends NotFound {
    InspectionNotFound(UUID id) {
        super("There is no inspection " + id);
    }
}
