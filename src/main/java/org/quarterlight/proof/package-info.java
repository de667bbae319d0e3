/**
 * What the installation signs, and the keys for it: canonical JSON (RFC 8785) signed with Ed25519 (RFC 8032) as a JWS (RFC
 * 7515), so that it can be checked without the service.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {"kernel", "tenancy", "web"})
package org.quarterlight.proof;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
