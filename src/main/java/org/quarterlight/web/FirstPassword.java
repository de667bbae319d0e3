package org.quarterlight.web;

import org.springframework.security.core.AuthenticationException;

/** E-mail and password belong together, but somebody else gave the password: the person chooses another first. */
public final class FirstPassword extends AuthenticationException {
    public FirstPassword() {
        super("Choose a password of your own first");
    }
}
