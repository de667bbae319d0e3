package org.quarterlight.inspection;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** There is no such plan of inspections. */
public class PlanNotFound extends NotFound {
    PlanNotFound(UUID id) {
        super("There is no inspection plan " + id);
    }
}
