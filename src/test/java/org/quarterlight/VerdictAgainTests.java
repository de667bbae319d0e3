package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.env.Environment;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import tools.jackson.databind.json.JsonMapper;

/** That a verdict which does not come out again is told, by page and path. */
@QuarterlightTest
class VerdictAgainTests {
    @Autowired
    private TestBusiness business;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private JsonMapper json;

    @Autowired
    private Environment environment;

    @Test
    void oneThatWasChangedIsFoundAndOneWithoutItsFactsIsNotGuessed() {
        var lived = business.live(mvc);
        var damage = lived.openDamage();
        assertThat(again(lived.fleet(), damage)).isNotEmpty().containsOnly("same");
        assertThat(page(lived.fleet(), damage)).contains("The same to the letter");

        change(damage, "content = jsonb_set(content, '{sentence}', '\"Drive on.\"')");
        assertThat(again(lived.fleet(), damage)).containsOnly("different");
        assertThat(page(lived.fleet(), damage)).contains("Comes out differently");

        change(damage, "judged_with = null");
        assertThat(again(lived.fleet(), damage)).containsOnly("unknown");
    }

    private List<String> again(TestOrganisation fleet, UUID damage) {
        return json
                .readTree(read(fleet, "/api/v1/damages/" + damage + "/verdicts/again"))
                .path("items")
                .valueStream()
                .map(each -> each.path("again").asString())
                .toList();
    }

    private String page(TestOrganisation fleet, UUID damage) {
        return read(fleet, "/damages/" + damage + "/verdicts");
    }

    private String read(TestOrganisation fleet, String path) {
        return new String(
                mvc.get()
                        .uri(path)
                        .with(authentication(new ActingAuthentication(fleet.person(Role.MANAGER))))
                        .exchange()
                        .getResponse()
                        .getContentAsByteArray(),
                java.nio.charset.StandardCharsets.UTF_8);
    }

    /** As nobody may who serves the application: to it verdicts are only ever added. */
    private void change(UUID damage, String how) {
        new JdbcTemplate(new DriverManagerDataSource(
                        environment.getRequiredProperty("spring.datasource.url"),
                        TestServer.superuser(),
                        TestServer.superuserPassword()))
                .update("update verdict set " + how + " where damage_id = ?", damage);
    }
}
