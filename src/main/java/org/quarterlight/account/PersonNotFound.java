package org.quarterlight.account;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** Nobody of this organisation has the id. */
public class PersonNotFound extends NotFound {
    PersonNotFound(UUID id) {
        super("There is nobody " + id + " in this organisation");
    }
}
