package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.net.URI;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.http.HttpMethod;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** Numbers, dates, characters and fields that no person sends: answered with a sentence, never with a failure of ours. */
@QuarterlightTest
@Timeout(60)
class HardInputTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestBusiness business;

    @Autowired
    @Qualifier("requestMappingHandlerMapping")
    private RequestMappingHandlerMapping mappings;

    @ParameterizedTest
    @ValueSource(strings = {"1e-99999999", "1e-20000", "1e99999999", "\"1e-99999999\"", "\"1e-20000\"", "1e7"})
    void aNumberOfEndlessDigitsIsRefusedAtOnceWithItsField(String number) {
        var lived = business.lived(mvc);
        var begun = System.nanoTime();
        var answer = mvc.post()
                .uri("/api/v1/damages")
                .header("Authorization", lived.fleet().bearer(Role.MANAGER))
                .contentType("application/json")
                .content("""
                    {"vehicleId": "%s", "kind": "pit", "observation": {"xMm": %s, "yMm": 300, "diameterMm": 9}}\
                    """.formatted(lived.vehicle(), number))
                .exchange();
        assertThat(answer).hasStatus(422);
        assertThat(text(answer)).contains("xMm").doesNotContain("java");
        assertThat(Duration.ofNanos(System.nanoTime() - begun)).isLessThan(Duration.ofSeconds(10));
    }

    @ParameterizedTest
    @ValueSource(strings = {"1e-99999999", "1e-20000", "zz", "NaN", "1.2.3", "1,234.5", "0x1F", "Infinity"})
    void whatIsNoNumberIsToldInPlainWordsBesideItsField(String number) {
        var answer = report(Map.of("xMm", number));
        assertThat(text(answer)).contains("Give a number").doesNotContain("java", "Failed to convert");
        assertThat(answer.getResponse().getStatus()).isLessThan(500);
    }

    @Test
    void aDecimalCommaIsAsGoodAsAPoint() {
        var answer = report(Map.of("diameterMm", "7,5"));
        assertThat(answer).hasStatus3xxRedirection();
        var id = answer.getResponse().getHeader("Location");
        assertThat(text(get(String.valueOf(id).replace("/answer", "").replaceFirst("^/damages", "/api/v1/damages"))))
                .contains("\"diameterMm\":7.5");
    }

    @Test
    void wordsAndIdsOfTheWrongKindAreToldInPlainWordsToo() {
        var answer = report(Map.of("kind", "zz", "source", "zz"));
        assertThat(text(answer)).contains("Choose one of those offered").doesNotContain("java", "Failed to convert");
    }

    @ParameterizedTest
    @ValueSource(strings = {"photos[0].x", "vehicleId.x", "photos[99999999]", "xMm[0]", "kind.x.y"})
    void aFieldThatTheFormHasNotIsNoFailure(String field) {
        assertThat(report(Map.of(field, "1")).getResponse().getStatus()).isLessThan(500);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "/jobs?date=%2B999999999-01-01",
                "/jobs?dueBy=-999999999-01-01",
                "/api/v1/jobs?date=%2B999999999-01-01",
                "/api/v1/jobs?dueBy=1949-12-31",
                "/damages?dueBy=2201-01-01",
                "/api/v1/damages?reportedFrom=%2B999999999-01-01T00:00:00Z",
                "/api/v1/damages?reportedTo=-999999999-01-01T00:00:00Z"
            })
    void aDateOutOfAllReasonIsRefusedWithWords(String address) {
        var answer = get(address);
        assertThat(answer.getResponse().getStatus()).isIn(400, 422);
        assertThat(text(answer)).contains("between 1950 and 2200");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "\"-9999-12-31\"",
                "\"0001-01-01\"",
                "\"9999-12-31\"",
                "1793500000",
                "-99999999",
                "1e1000000000",
                "[2026, 11, 27]",
                "\"2026-11-27T00:00:00Z\""
            })
    void aDayInABodyIsADateWithinReason(String day) {
        var lived = business.lived(mvc);
        var lot = sent(lived.repairer(), Role.DISPATCHER, "/resin-lots", """
            {"number": "X-1", "resin": "thin", "expiresOn": %s}\
            """.formatted(day));
        assertThat(lot).hasStatus(422);
        assertThat(text(lot)).contains("\"field\":\"expiresOn\"").doesNotContain("java");
        var damage = sent(lived.fleet(), Role.MANAGER, "/damages", """
            {"vehicleId": "%s", "kind": "pit",
             "observation": {"xMm": 0, "yMm": 300, "diameterMm": 3, "source": "eye", "arisenOn": %s}}\
            """.formatted(lived.vehicle(), day));
        assertThat(damage).hasStatus(422);
    }

    @ParameterizedTest
    @ValueSource(strings = {"1e1000000000", "-1e1000000000", "0", "1793500000", "[2026, 11, 27]"})
    void aMomentInABodyIsText(String moment) {
        var lived = business.lived(mvc);
        var damage = sent(lived.fleet(), Role.MANAGER, "/damages", """
            {"vehicleId": "%s", "kind": "pit", "occurredAt": %s,
             "observation": {"xMm": 0, "yMm": 300, "diameterMm": 3, "source": "eye"}}\
            """.formatted(lived.vehicle(), moment));
        assertThat(damage).hasStatus(422);
        assertThat(text(damage)).contains("\"field\":\"occurredAt\"").doesNotContain("java");
    }

    @Test
    void aCourseOfOneCornerIsNoCourse() {
        var lived = business.lived(mvc);
        var damage = sent(lived.fleet(), Role.MANAGER, "/damages", """
            {"vehicleId": "%s", "kind": "crack", "observation": {"xMm": 0, "yMm": 300, "source": "eye",
             "course": [{"xMm": 0, "yMm": 300}]}}\
            """.formatted(lived.vehicle()));
        assertThat(damage).hasStatus(422);
        assertThat(text(damage)).contains("\"field\":\"observation.course\"", "two corners");
        var page = report(Map.of("kind", "crack", "diameterMm", "", "course", "0 300"));
        assertThat(page).hasStatus(422);
        assertThat(text(page)).contains("two corners");
    }

    @Test
    void anAmountOfMoneyIsNotCut() {
        var lived = business.lived(mvc);
        var answer = mvc.patch()
                .uri("/api/v1/rule-sheets/cost-rates")
                .header("Authorization", lived.fleet().bearer(Role.MANAGER))
                .header("If-Match", "\"0\"")
                .contentType("application/json")
                .content("{\"repairMinor\": 1.5, \"replacementMinor\": 1, \"currency\": \"EUR\"}")
                .exchange();
        assertThat(answer).hasStatus(422);
        assertThat(text(answer)).contains("\"field\":\"repairMinor\"");
    }

    private MvcTestResult sent(TestOrganisation who, Role role, String path, String body) {
        return mvc.post()
                .uri("/api/v1" + path)
                .header("Authorization", who.bearer(role))
                .contentType("application/json")
                .content(body)
                .exchange();
    }

    @Test
    void aDayOutOfAllReasonIsRefusedOnTheBoardToo() {
        var lived = business.lived(mvc);
        for (var address : List.of(
                "/days/+999999999-01-01",
                "/api/v1/vans/" + lived.van() + "/days/+999999999-01-01",
                "/api/v1/vans/" + lived.van() + "/days/-999999999-01-01")) {
            var answer = mvc.get()
                    .uri(URI.create(address))
                    .with(authentication(
                            new ActingAuthentication(lived.repairer().person(Role.DISPATCHER))))
                    .exchange();
            assertThat(answer.getResponse().getStatus()).as(address).isIn(400, 422);
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"-99999999999999", "\"+999999999-01-01T00:00:00Z\"", "\"1949-12-31T23:59:59Z\""})
    void aMomentOutOfAllReasonIsRefusedWithItsField(String moment) {
        var lived = business.lived(mvc);
        var answer = mvc.post()
                .uri("/api/v1/jobs/" + lived.job() + "/notes")
                .header("Authorization", lived.repairer().bearer(Role.TECHNICIAN))
                .contentType("application/json")
                .content("{\"text\": \"x\", \"occurredAt\": " + moment + "}")
                .exchange();
        assertThat(answer).hasStatus(422);
        assertThat(text(answer)).contains("occurredAt");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "/vehicles?search=%ed%a0%80",
                "/api/v1/vehicles?search=%ed%a0%80",
                "/report?q=%ed%a0%80",
                "/search?q=%ed%a0%80",
                "/jobs?q=%ed%a0%80",
                "/api/v1/jobs?q=%ed%a0%80"
            })
    void halfACharacterMatchesNothing(String address) {
        assertThat(get(address).getResponse().getStatus()).isLessThan(500);
        assertThat(mvc.get()
                        .uri(address.substring(0, address.indexOf('?')))
                        .param(address.contains("?q") ? "q" : "search", "\ud800")
                        .with(authentication(new ActingAuthentication(
                                business.lived(mvc).fleet().person(Role.MANAGER))))
                        .exchange()
                        .getResponse()
                        .getStatus())
                .isLessThan(500);
    }

    @ParameterizedTest
    @ValueSource(strings = {"\\u0001", "\\u001b", "\\ud800", "\\uffff"})
    void aCharacterThatCannotBeDrawnIsRefused(String character) {
        var lived = business.lived(mvc);
        var answer = mvc.post()
                .uri("/api/v1/jobs/" + lived.job() + "/notes")
                .header("Authorization", lived.repairer().bearer(Role.TECHNICIAN))
                .contentType("application/json")
                .content("{\"text\": \"a" + character + "b\"}")
                .exchange();
        assertThat(answer.getResponse().getStatus()).isIn(400, 422);
    }

    @Test
    void anAddressWhoseBodyIsLeftOutIsAnswered() {
        assertThat(mvc.get().uri("/actuator/health").exchange()).hasStatusOk();
        assertThat(mvc.get().uri("/actuator/health/x").exchange()).hasStatus(404);
    }

    @Test
    void aCodeThatIsNoneIsAnsweredAsEnded() {
        for (var address : List.of("/r/%7Bfoo%7D", "/r/%7Bfoo%7D/damages/" + UUID.randomUUID() + "/answer")) {
            assertThat(mvc.get().uri(URI.create(address)).exchange())
                    .as(address)
                    .hasStatus(404);
        }
        assertThat(mvc.post().uri(URI.create("/r/%7Bfoo%7D")).with(csrf()).exchange())
                .hasStatus(404);
    }

    @Test
    void anEMailWithACharacterThatIsNoneIsUnknown() {
        var answer = mvc.post()
                .uri("/sign-in")
                .param("email", "a\0b@test.invalid")
                .param("password", "a wrong but long one")
                .with(csrf())
                .exchange();
        assertThat(answer.getResponse().getStatus()).isBetween(300, 499);
    }

    /** Who may not is told so before anything is made of what they sent. */
    @Test
    void emptyFormsOfWhoeverAreNoFailure() {
        var lived = business.lived(mvc);
        var wrong = new TreeSet<String>();
        for (var info : mappings.getHandlerMethods().keySet()) {
            if (!info.getMethodsCondition().getMethods().contains(RequestMethod.POST)) {
                continue;
            }
            for (var pattern : info.getPatternValues()) {
                if (pattern.startsWith("/api/") || pattern.startsWith("/r/")) {
                    continue;
                }
                for (var organisation : List.of(lived.fleet(), lived.repairer())) {
                    for (var role : organisation.tokens().keySet()) {
                        var id = pattern.startsWith("/vehicles")
                                ? lived.vehicle()
                                : pattern.startsWith("/depots")
                                        ? lived.depot()
                                        : pattern.startsWith("/damages") ? lived.openDamage() : UUID.randomUUID();
                        var address = pattern.replace("{id}", id.toString())
                                .replace("{date}", "2026-01-01")
                                .replaceAll("\\{\\w+}", UUID.randomUUID().toString());
                        var status = mvc.method(HttpMethod.POST)
                                .uri(address)
                                .with(authentication(new ActingAuthentication(organisation.person(role))))
                                .with(csrf())
                                .exchange()
                                .getResponse()
                                .getStatus();
                        if (status >= 500) {
                            wrong.add(pattern + " as " + role + " of a " + organisation.kind() + ": " + status);
                        }
                        if (pattern.equals("/depots") && role != Role.MANAGER && status != 403) {
                            wrong.add(pattern + " as " + role + ": " + status);
                        }
                    }
                }
            }
        }
        assertThat(wrong).isEmpty();
    }

    private MvcTestResult report(Map<String, String> other) {
        var lived = business.lived(mvc);
        var request = mvc.post()
                .uri("/report")
                .with(authentication(new ActingAuthentication(lived.fleet().person(Role.MANAGER))))
                .with(csrf());
        var fields = new java.util.TreeMap<>(Map.of(
                "vehicleId", lived.vehicle().toString(),
                "kind", "pit",
                "xMm", "0",
                "yMm", "300",
                "diameterMm", "4",
                "layers", "outer"));
        fields.putAll(other);
        fields.forEach(request::param);
        return request.exchange();
    }

    private MvcTestResult get(String address) {
        return mvc.get()
                .uri(URI.create(address))
                .with(authentication(
                        new ActingAuthentication(business.lived(mvc).fleet().person(Role.MANAGER))))
                .exchange();
    }

    private static String text(MvcTestResult answer) {
        try {
            return answer.getResponse().getContentAsString();
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}
