package org.quarterlight;

import java.util.Set;
import org.quarterlight.account.AddMember;
import org.quarterlight.account.CreateOrganisation;
import org.quarterlight.account.Organisations;
import org.quarterlight.account.People;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.ApplicationArguments;
import org.springframework.boot.ApplicationRunner;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;

/**
 * Lets the first person in: whoever {@code QUARTERLIGHT_OPERATOR_EMAIL} and {@code QUARTERLIGHT_OPERATOR_PASSWORD} name
 * becomes the operator of an installation that knows nobody yet. Later starts change nothing. The demo brings its own.
 */
@Component
@Profile("!demo")
class FirstOperator implements ApplicationRunner {
    private static final Logger LOG = LoggerFactory.getLogger(FirstOperator.class);

    private final Organisations organisations;
    private final People people;
    private final String email;
    private final String password;

    FirstOperator(
            Organisations organisations,
            People people,
            @Value("${quarterlight.operator.email:}") String email,
            @Value("${quarterlight.operator.password:}") String password) {
        this.organisations = organisations;
        this.people = people;
        this.email = email;
        this.password = password;
    }

    @Override
    public void run(ApplicationArguments arguments) {
        if (people.any()) {
            return;
        }
        if (email.isBlank() || password.isBlank()) {
            LOG.warn("Nobody can sign in yet: start once with QUARTERLIGHT_OPERATOR_EMAIL and"
                    + " QUARTERLIGHT_OPERATOR_PASSWORD to make the first operator");
            return;
        }
        organisations.found(new CreateOrganisation(
                OrganisationKind.PLATFORM,
                "Quarterlight",
                "GB",
                null,
                new AddMember(email, "Operator", Set.of(Role.OPERATOR, Role.ADMINISTRATOR), password)));
        people.passwordStays(email);
        LOG.info("{} may sign in now, as the first operator", email);
    }
}
