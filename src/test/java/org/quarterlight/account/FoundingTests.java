package org.quarterlight.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.tenancy.Founding;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** An organisation and its first administrator are there together or not at all. */
@QuarterlightTest
class FoundingTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Founding founding;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    private final String mark = UUID.randomUUID().toString().substring(24);

    @Test
    void theOperatorFoundsOneOnceHoweverOftenTheRequestIsSent() {
        var platform = organisations.platform();
        var key = UUID.randomUUID().toString();
        var first = post(platform, key, "\"administrator\"", "\"a long enough one\"");
        var second = post(platform, key, "\"administrator\"", "\"a long enough one\"");
        assertThat(first).hasStatus(201);
        assertThat(second).hasStatus(201);
        assertThat(text(second)).isEqualTo(text(first));
        assertThat(founded()).isOne();
        assertThat(jdbc.sql("""
            select count(*) from membership m join organisation o on o.id = m.tenant_id
            where o.name = :name and m.roles = '{ADMINISTRATOR}'\
            """)
                        .param("name", "Served " + mark)
                        .query(Long.class)
                        .single())
                .isOne();
    }

    @Test
    void withoutAnAdministratorWhoCanComeInNoneIsLeft() {
        var platform = organisations.platform();
        assertThat(post(platform, null, "\"administrator\"", "null")).hasStatus(422);
        assertThat(post(platform, UUID.randomUUID().toString(), "\"administrator\"", "null"))
                .hasStatus(422);
        for (var roles : new String[] {"\"dispatcher\"", "\"administrator\", \"operator\""}) {
            var wrong = post(platform, null, roles, "\"a long enough one\"");
            assertThat(wrong).hasStatus(422);
            assertThat(text(wrong)).contains("\"field\":\"administrator.roles\"");
        }
        assertThat(founded()).isZero();
    }

    @Test
    void theFormSaysInItsOwnWordsWhatIsWrongAndShowsThePlatformsListAgain() {
        var platform = organisations.platform();
        var answer = mvc.post()
                .uri("/operator/organisations")
                .with(authentication(new ActingAuthentication(platform.person(Role.OPERATOR))))
                .with(csrf())
                .contentType("application/x-www-form-urlencoded")
                .param("kind", "fleet")
                .param("name", "Served " + mark)
                .param("country", "gbr")
                .param("person", "")
                .param("email", "first-" + mark + "@test.invalid")
                .param("idempotencyKey", UUID.randomUUID().toString())
                .exchange();
        assertThat(answer).hasStatus(422);
        assertThat(text(answer))
                .contains("Country is not a country code", "First administrator must not be blank", "Served " + mark)
                .doesNotContain("create.command");

        var noPassword = mvc.post()
                .uri("/operator/organisations")
                .with(authentication(new ActingAuthentication(platform.person(Role.OPERATOR))))
                .with(csrf())
                .contentType("application/x-www-form-urlencoded")
                .param("kind", "fleet")
                .param("name", "Served " + mark)
                .param("country", "gb")
                .param("person", "First")
                .param("email", "first-" + mark + "@test.invalid")
                .param("idempotencyKey", UUID.randomUUID().toString())
                .exchange();
        assertThat(noPassword).hasStatus(422);
        assertThat(text(noPassword)).contains("needs a first password");
        assertThat(founded()).isZero();
    }

    @Test
    void theHealthPageCountsForTheOperatorAlone() {
        var platform = organisations.platform();
        var seen = mvc.get()
                .uri("/operator/health")
                .with(authentication(new ActingAuthentication(platform.person(Role.OPERATOR))))
                .exchange();
        assertThat(seen).hasStatusOk();
        assertThat(text(seen)).contains("PostgreSQL", "Announcements that failed");
        assertThat(mvc.get()
                        .uri("/operator/health")
                        .with(authentication(
                                new ActingAuthentication(organisations.fleet().person(Role.ADMINISTRATOR))))
                        .exchange())
                .hasStatus(403);
    }

    @Test
    void noTransactionActsForAnOrganisationThatItHasNotMade() {
        var other = organisations.fleet().tenant();
        var template = new TransactionTemplate(transactions);
        assertThatThrownBy(() -> template.execute(status -> founding.callAs(other, () -> "as another")))
                .isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(() -> founding.callAs(new TenantId(UUID.randomUUID()), () -> "as nobody"))
                .isInstanceOf(IllegalStateException.class);
    }

    private MvcTestResult post(
            TestOrganisation platform, @org.jspecify.annotations.Nullable String key, String role, String password) {
        var request = mvc.post()
                .uri("/api/v1/organisations")
                .header("Authorization", platform.bearer(Role.OPERATOR))
                .contentType("application/json")
                .content("""
                    {"kind": "fleet", "name": "Served %s", "country": "GB", "administrator": {"name": "First",
                     "email": "first-%s@test.invalid", "roles": [%s], "password": %s}}\
                    """.formatted(mark, mark, role, password));
        if (key != null) {
            request.header("Idempotency-Key", key);
        }
        return request.exchange();
    }

    private long founded() {
        return jdbc.sql("select count(*) from organisation where name = :name")
                .param("name", "Served " + mark)
                .query(Long.class)
                .single();
    }

    private static String text(MvcTestResult answer) {
        try {
            return answer.getResponse().getContentAsString();
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}
