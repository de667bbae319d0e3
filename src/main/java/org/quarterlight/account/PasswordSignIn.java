package org.quarterlight.account;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.FirstPassword;
import org.quarterlight.web.Memberships;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.authentication.LockedException;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.security.web.authentication.WebAuthenticationDetails;
import org.springframework.stereotype.Component;

/** E-mail and password. Whoever has them acts for the organisation they switched to last, else for their first. */
@Component
class PasswordSignIn implements AuthenticationProvider {
    private final PersonRepository persons;
    private final Memberships memberships;
    private final Passwords passwords;
    private final Attempts attempts;

    PasswordSignIn(PersonRepository persons, Memberships memberships, Passwords passwords, Attempts attempts) {
        this.persons = persons;
        this.memberships = memberships;
        this.passwords = passwords;
        this.attempts = attempts;
    }

    @Override
    public Authentication authenticate(Authentication given) {
        var address = given.getDetails() instanceof WebAuthenticationDetails details
                ? String.valueOf(details.getRemoteAddress())
                : "unknown";
        return new ActingAuthentication(
                signIn(String.valueOf(given.getName()), String.valueOf(given.getCredentials()), address, null));
    }

    @Override
    public boolean supports(Class<?> type) {
        return UsernamePasswordAuthenticationToken.class.isAssignableFrom(type);
    }

    /** Proves the person and names what they act for: the organisation asked for, else the last, else their first. */
    Acting signIn(String typedEmail, String password, String address, @Nullable UUID organisation) {
        var email = typedEmail.trim().toLowerCase(Locale.ROOT);
        var attempt = attempts.begin(email, address).orElseThrow(() -> new LockedException("Too many failed attempts"));
        var proved = proved(email, password);
        if (proved.filter(Person::passwordIsFirst).isPresent()) {
            attempts.succeeded(attempt);
            throw new FirstPassword();
        }
        var acting = proved.flatMap(person -> {
            var all = memberships.of(person.getId());
            return organisation == null
                    ? of(all, person.lastTenantId()).or(() -> all.stream().findFirst())
                    : of(all, organisation);
        });
        if (acting.isEmpty()) {
            throw new BadCredentialsException("E-mail and password do not belong together");
        }
        attempts.succeeded(attempt);
        return acting.get();
    }

    private static Optional<Acting> of(List<Acting> all, @Nullable UUID organisation) {
        return all.stream()
                .filter(each -> each.organisation().value().equals(organisation))
                .findFirst();
    }

    private Optional<Person> proved(String email, String password) {
        // Nobody's e-mail holds U+0000, and the database takes no such text to look for.
        var person = email.indexOf('\0') >= 0 ? Optional.<Person>empty() : persons.findByEmail(email);
        if (person.isEmpty()) {
            passwords.pretend(password);
        }
        return person.filter(found -> passwords.matches(password, found.passwordHash()));
    }
}
