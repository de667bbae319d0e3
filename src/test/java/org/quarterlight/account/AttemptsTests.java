package org.quarterlight.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.authentication.LockedException;

@QuarterlightTest
class AttemptsTests {
    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private PasswordSignIn signIn;

    @Autowired
    private JdbcClient jdbc;

    @AfterEach
    void forget() {
        jdbc.sql("delete from sign_in_attempt").update();
    }

    @Test
    void aStrangersGuessesShutOutTheStrangerAlone() {
        var email = email(organisations.fleet());
        for (int i = 0; i < Attempts.MOST_FOR_A_PAIR; i++) {
            assertThatThrownBy(() -> signIn.signIn(email, "a wrong but long one", "192.0.2.1", null))
                    .isInstanceOf(BadCredentialsException.class);
        }
        assertThatThrownBy(() -> signIn.signIn(email, TestOrganisations.PASSWORD, "192.0.2.1", null))
                .isInstanceOf(LockedException.class);
        assertThat(signIn.signIn(email, TestOrganisations.PASSWORD, "192.0.2.2", null))
                .isNotNull();
    }

    @Test
    void guessesFromEverywhereShutOutTheEMailInTheEnd() {
        var email = email(organisations.fleet());
        for (int i = 0; i < Attempts.MOST_FOR_AN_EMAIL; i++) {
            var address = "192.0.2." + i;
            assertThatThrownBy(() -> signIn.signIn(email, "a wrong but long one", address, null))
                    .isInstanceOf(BadCredentialsException.class);
        }
        assertThatThrownBy(() -> signIn.signIn(email, TestOrganisations.PASSWORD, "198.51.100.1", null))
                .isInstanceOf(LockedException.class);
    }

    @Test
    void whoGetsInIsNotCounted() {
        var email = email(organisations.fleet());
        var address = "203.0.113." + Math.floorMod(UUID.randomUUID().hashCode(), 250);
        for (int i = 0; i < Attempts.MOST_FROM_AN_ADDRESS + 2; i++) {
            assertThat(signIn.signIn(email, TestOrganisations.PASSWORD, address, null))
                    .isNotNull();
        }
    }

    private static String email(TestOrganisation organisation) {
        var mark = organisation.name().substring(organisation.name().lastIndexOf(' ') + 1);
        return Role.MANAGER.name().toLowerCase(java.util.Locale.ROOT) + "-" + mark + "@test.invalid";
    }
}
