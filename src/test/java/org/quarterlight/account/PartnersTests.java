package org.quarterlight.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.UUID;
import java.util.function.Supplier;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** What a fleet and a repairer agree on stays agreed, however often it is said. */
@QuarterlightTest
class PartnersTests {
    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Partners partners;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    @Test
    void invitingAgainWithoutTermsKeepsThoseThatWereAgreed() {
        var fleet = organisations.fleet();
        var repairer = organisations.repairer();
        organisations.join(fleet, repairer);

        var again = as(fleet, () -> partners.invite(new InvitePartner(repairer.id(), null)));

        assertThat(again.terms()).isEqualTo("by telephone");
        assertThat(again.state()).isEqualTo(PartnerState.ACTIVE);
        assertThat(as(fleet, () -> partners.invite(new InvitePartner(repairer.id(), " ")))
                        .terms())
                .isEqualTo("by telephone");
        assertThat(as(fleet, () -> partners.invite(new InvitePartner(repairer.id(), "by post")))
                        .terms())
                .isEqualTo("by post");
        assertThat(actions(fleet, again.id())).containsExactly("invited", "invited");
    }

    @Test
    void acceptingTwiceIsOneLineInTheHistory() {
        var fleet = organisations.fleet();
        var repairer = organisations.repairer();
        organisations.join(fleet, repairer);
        var partner = as(fleet, () -> partners.invite(new InvitePartner(repairer.id(), null)));

        var second = as(repairer, () -> partners.accept(partner.id()));

        assertThat(second.state()).isEqualTo(PartnerState.ACTIVE);
        assertThat(second.version()).isEqualTo(partner.version());
        assertThat(actions(repairer, partner.id())).containsExactly("accepted");
        as(repairer, () -> partners.withdraw(partner.id()));
        as(repairer, () -> partners.withdraw(partner.id()));
        assertThat(actions(repairer, partner.id())).containsExactly("accepted", "ended");
    }

    private List<String> actions(TestOrganisation of, UUID partner) {
        return as(
                of,
                () -> new TransactionTemplate(transactions)
                        .execute(status -> jdbc.sql("select action from history where subject_id = :id order by id")
                                .param("id", partner)
                                .query(String.class)
                                .list()));
    }

    private static <T> T as(TestOrganisation organisation, Supplier<T> work) {
        return TestOrganisations.as(organisation, Role.ADMINISTRATOR, work);
    }
}
