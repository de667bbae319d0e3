package org.quarterlight.web;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.Acting;
import org.springframework.security.authentication.AbstractAuthenticationToken;
import org.springframework.security.core.authority.SimpleGrantedAuthority;

/** Somebody whose identity was proved, acting for one organisation. */
public final class ActingAuthentication extends AbstractAuthenticationToken {
    private final Acting acting;

    public ActingAuthentication(Acting acting) {
        super(authorities(acting));
        this.acting = acting;
        setAuthenticated(true);
    }

    @Override
    public Acting getPrincipal() {
        return acting;
    }

    @Override
    public @Nullable Object getCredentials() {
        return null;
    }

    @Override
    public String getName() {
        return acting.person() == null ? acting.name() : acting.person().toString();
    }

    private static List<SimpleGrantedAuthority> authorities(Acting acting) {
        return acting.roles().stream()
                .map(role -> new SimpleGrantedAuthority(role.authority()))
                .toList();
    }
}
