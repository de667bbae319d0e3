package org.quarterlight.repair;

import org.quarterlight.kernel.NotFound;

/** No certificate has this address. */
public class CertificateNotFound extends NotFound {
    CertificateNotFound() {
        super("There is no such certificate");
    }
}
