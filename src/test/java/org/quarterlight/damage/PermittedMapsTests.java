package org.quarterlight.damage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestOrganisations.as;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.math.BigDecimal;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import tools.jackson.databind.json.JsonMapper;

/** The map of a glass pattern: as numbers, as a picture that stands alone, and as a page. */
@QuarterlightTest
class PermittedMapsTests {
    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Depots depots;

    @Autowired
    private GlassPatterns patterns;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private JsonMapper json;

    private TestOrganisation owner;
    private UUID pattern;

    @BeforeEach
    void aBritishFleet() {
        owner = organisations.fleet();
        as(
                owner,
                Role.MANAGER,
                () -> depots.create(new SaveDepot(
                        "Yard",
                        "1 Yard Lane",
                        new BigDecimal("52"),
                        new BigDecimal("-1"),
                        "Europe/London",
                        "GB",
                        null,
                        null,
                        0,
                        null)));
        pattern = as(owner, Role.MANAGER, () -> patterns.all()).stream()
                .filter(each -> each.name().startsWith("Coach"))
                .findFirst()
                .orElseThrow()
                .id();
    }

    @Test
    void tellsTheShareByTheSheetsOfTheCountryAndOfTheGlassesVehicles() {
        var small = api("/permitted?kind=star-break&diameterMm=19");
        var map = json.readTree(text(small));
        assertThat(map.path("category").asString()).isEqualTo("M3");
        assertThat(map.path("sheets").path(0).path("id").asString()).isEqualTo("bs-au-242b-2022");
        var share = map.path("shareOfWipedArea").asDouble();
        assertThat(share).isBetween(0.9, 1.0);
        assertThat(map.path("taken").toString()).contains("Only the outer glass is hit.");
        // BS AU 242b:2022, secondary: over 20 mm nowhere in zone A, over 40 mm nowhere at all
        var large = json.readTree(text(api("/permitted?kind=star-break&diameterMm=21")));
        assertThat(large.path("shareOfWipedArea").asDouble()).isBetween(0.3, share - 0.2);
        var tooLarge = json.readTree(text(api("/permitted?kind=star-break&diameterMm=41")));
        assertThat(tooLarge.path("shareOfWipedArea").asDouble()).isLessThan(0.02);
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource({"light,#1D4A47", "dark,#9CC9C2", "print,#000000"})
    void isDrawnWithItsColoursResolved(String look, String edge) {
        var drawn = api("/permitted.svg?kind=bullseye&diameterMm=21&look=" + look);
        assertThat(drawn).hasStatusOk().hasContentTypeCompatibleWith("image/svg+xml");
        assertThat(text(drawn))
                .contains("xmlns=", "data-zone=\"permitted\"", "where a bullseye of 21 mm may be repaired", edge)
                .contains("of the wiped area")
                .doesNotContain("var(--", "style=");
    }

    @ParameterizedTest(name = "{0}: {1}")
    @CsvSource({
        "diameterMm=20,kind",
        "kind=pit,diameterMm",
        "kind=pit&diameterMm=0,diameterMm",
        "kind=pit&diameterMm=4001,diameterMm",
        "kind=pit&diameterMm=5&ruleSheet=none-such,ruleSheet",
        "kind=pit&diameterMm=5&ruleSheet=uk-cars-roadworthiness,ruleSheet"
    })
    void whatDoesNotFitIsSaidOfItsField(String query, String field) {
        for (var path : new String[] {"/permitted?", "/permitted.svg?"}) {
            var answer = api(path + query);
            assertThat(answer).hasStatus(422);
            assertThat(json.readTree(text(answer))
                            .path("errors")
                            .path(0)
                            .path("field")
                            .asString())
                    .isEqualTo(field);
        }
    }

    @Test
    void isAPageThatNeedsNoScriptAndAPartOfThePatternsOwn() {
        assertThat(text(page("/glass-patterns/" + pattern)))
                .contains("hx-get=\"/glass-patterns/" + pattern + "/permitted\"");
        var whole = page("/glass-patterns/" + pattern
                + "/permitted?kind=crack&diameterMm=150&ruleSheet=common-practice-repair&category=");
        assertThat(whole).hasStatusOk();
        assertThat(text(whole)).contains("<html", "A crack of 150 mm may be repaired in none of the wiped area");
        var part = mvc.get()
                .uri("/glass-patterns/" + pattern + "/permitted?kind=pit&diameterMm=3")
                .header("HX-Request", "true")
                .with(authentication(new ActingAuthentication(owner.person(Role.DRIVER))))
                .exchange();
        assertThat(text(part)).doesNotContain("<html").contains("A pit of 3 mm may be repaired in");
        var wrong = page("/glass-patterns/" + pattern + "/permitted?kind=pit&diameterMm=thin");
        assertThat(wrong).hasStatus(422);
        assertThat(text(wrong)).contains("diameterMm-error");
    }

    @Test
    void anotherFleetsGlassIsNotThere() {
        var stranger = organisations.fleet();
        var answer = mvc.get()
                .uri("/api/v1/glass-patterns/" + pattern + "/permitted.svg?kind=pit&diameterMm=3")
                .header("Authorization", stranger.bearer(Role.MANAGER))
                .exchange();
        assertThat(answer).hasStatus(404);
    }

    private MvcTestResult api(String path) {
        return mvc.get()
                .uri("/api/v1/glass-patterns/" + pattern + path)
                .header("Authorization", owner.bearer(Role.DRIVER))
                .exchange();
    }

    private MvcTestResult page(String path) {
        return mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(owner.person(Role.MANAGER))))
                .exchange();
    }

    private static String text(MvcTestResult result) {
        try {
            return result.getResponse().getContentAsString();
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}
