package org.quarterlight.web;

/** A change that does not say from which version it was made. */
class VersionMissing extends RuntimeException {
    VersionMissing() {
        super("Send If-Match with the ETag that you read, so that nobody else's change is lost");
    }
}
