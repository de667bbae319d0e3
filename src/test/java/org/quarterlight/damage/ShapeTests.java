package org.quarterlight.damage;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.UUID;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.eligibility.DamageFacts;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.Measured;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** How a damage runs: by the API and by the form, kept, judged and drawn. */
@QuarterlightTest
class ShapeTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private JsonMapper json;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet fleet;

    private TestOrganisation owner;
    private UUID vehicle;

    @BeforeEach
    void aCar() {
        owner = organisations.fleet();
        vehicle = TestOrganisations.as(owner, Role.MANAGER, () -> {
            var depot = depots.create(depot());
            return fleet.create(new SaveVehicle(
                            depot.id(),
                            "QV23 KTB",
                            null,
                            VehicleCategory.M1,
                            null,
                            SteeringSide.RIGHT,
                            null,
                            null,
                            null,
                            null))
                    .id();
        });
    }

    private static SaveDepot depot() {
        return new SaveDepot(
                "Yard",
                "1 Yard Lane",
                new BigDecimal("52"),
                new BigDecimal("-1"),
                "Europe/London",
                "GB",
                null,
                null,
                0,
                null);
    }

    @Test
    void aCracksCourseIsKeptAndTellsItsSizeAndLength() {
        var damage = created("crack", """
            "xMm": -300, "yMm": 300, "source": "photo", "layers": "outer",
            "course": [{"xMm": -300, "yMm": 300}, {"xMm": -200, "yMm": 300}, {"xMm": -200, "yMm": 380.5}]\
            """);
        var seen = damage.path("observation");
        assertThat(seen.path("course")).hasSize(3);
        assertThat(seen.path("course").path(2).path("yMm").asDouble()).isEqualTo(380.5);
        // The two outer corners of a right angle are the ends of the circle's diameter: √(100² + 80.5²)
        assertThat(seen.path("diameterMm").asDouble()).isCloseTo(Math.hypot(100, 80.5), within(0.06));
        assertThat(seen.path("diameterStandardUncertaintyMm").asDouble())
                .as("both ends as sure as a place in a photo, 3 mm")
                .isCloseTo(3 * Math.sqrt(2), within(0.06));
        assertThat(seen.propertyNames()).doesNotContain("shape", "lines");

        var page = page("/damages/" + damage.path("id").asString());
        assertThat(page).as("the drawing runs as the crack does").contains("M-300 -300L-200 -300L-200 -380.5");
        assertThat(read("/damages/" + damage.path("id").asString() + "/observations")
                        .path("items")
                        .path(0)
                        .path("course"))
                .hasSize(3);
    }

    @Test
    void aStarIsJudgedFromTheTipOfItsLegs() {
        // One leg points up, towards the upper edge: what counts is its tip, not a circle about the impact.
        var up = created("star-break", star("{\"lengthMm\": 30, \"directionDegrees\": 0}"));
        var down = created("star-break", star("{\"lengthMm\": 30, \"directionDegrees\": 180}"));
        var edges = new double[] {toEdge(up), toEdge(down)};
        assertThat(edges[0]).isLessThan(edges[1] - 20);
        assertThat(up.path("observation").path("legs").path(0).path("lengthMm").asDouble())
                .isEqualTo(30);
        assertThat(up.path("observation").path("diameterMm").asDouble())
                .as("the leg and a crater 3 mm wide")
                .isCloseTo(31.5, within(0.06));
    }

    private static String star(String leg) {
        return """
            "xMm": 300, "yMm": 700, "source": "gauge", "layers": "outer", "condition": "clean-dry", "pitMm": 3,
            "legs": [%s]\
            """.formatted(leg);
    }

    private double toEdge(JsonNode damage) {
        var matcher = Pattern.compile("data-damage=\"" + damage.path("number").asInt()
                        + "\"[^>]*aria-label=\"[^\"]* ([0-9.]+) ± [0-9.]+ mm from the edge")
                .matcher(page("/damages/" + damage.path("id").asString()));
        assertThat(matcher.find()).isTrue();
        return Double.parseDouble(matcher.group(1));
    }

    @Test
    void aCrackIsAsLongAsItsCourseAndAStarsLongestLegIsOneOfThem() {
        var course = List.of(corner(0, 0), corner(100, 0), corner(100, 80));
        var crack = facts(DamageKind.CRACK, seen(course, List.of()));
        assertThat(requireNonNull(crack.longestLeg()).mm()).isEqualTo(180);
        assertThat(requireNonNull(crack.longestLeg()).standardUncertaintyMm()).isEqualTo(Math.sqrt(2));
        var star = facts(DamageKind.STAR_BREAK, seen(List.of(), List.of(leg(12, 0), leg(17.5, 100), leg(4, 200))));
        assertThat(requireNonNull(star.longestLeg())).isEqualTo(new Measured(17.5, 0.3));
        assertThat(requireNonNull(star.shape().lines()).getNumGeometries()).isEqualTo(3);
    }

    private static DamageFacts facts(DamageKind kind, SeenDamage seen) {
        var now = Instant.parse("2026-11-25T10:00:00Z");
        return new Observation(new UUID(0, 1), new UUID(0, 2), kind, seen.sized(), now, now, "somebody")
                .facts(false, ZoneOffset.UTC);
    }

    private static SeenDamage seen(List<Corner> course, List<Leg> legs) {
        return new SeenDamage(
                BigDecimal.ZERO,
                BigDecimal.ZERO,
                null,
                null,
                null,
                null,
                null,
                null,
                null,
                null,
                Seen.GAUGE,
                null,
                null,
                course,
                legs,
                null,
                null);
    }

    private static Corner corner(double xMm, double yMm) {
        return new Corner(BigDecimal.valueOf(xMm), BigDecimal.valueOf(yMm));
    }

    private static Leg leg(double lengthMm, double directionDegrees) {
        return new Leg(BigDecimal.valueOf(lengthMm), BigDecimal.valueOf(directionDegrees));
    }

    @ParameterizedTest(name = "{0} {1}: {2}")
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "crack | 'diameterMm': 100, 'course': [{'xMm': 0, 'yMm': 300}] | observation.course",
                "crack | 'course': [{'xMm': 9, 'yMm': 300}, {'xMm': 60, 'yMm': 300}] | observation.course",
                "crack | 'course': [{'xMm': 0, 'yMm': 300}, {'xMm': 0, 'yMm': 2000}] | observation.course",
                "crack | 'course': [{'xMm': 0, 'yMm': 300}, {'xMm': 0, 'yMm': 300}] | observation.course",
                "crack | 'course': [{'xMm': 0, 'yMm': 300}, {'xMm': 5, 'yMm': null}] | observation.course[1].yMm",
                "crack | 'course': [{'xMm': 0, 'yMm': 300}, null] | observation.course[1]",
                "crack | 'toXMm': 9, 'toYMm': 9, 'course': [{'xMm': 0, 'yMm': 300}, {'xMm': 60, 'yMm': 300}] |"
                        + " observation.toXMm",
                "crack | 'diameterMm': 40, 'course': [{'xMm': 0, 'yMm': 300}, {'xMm': 90, 'yMm': 300}] |"
                        + " observation.diameterMm",
                "bullseye | 'diameterMm': 20, 'course': [{'xMm': 0, 'yMm': 300}, {'xMm': 20, 'yMm': 300}] |"
                        + " observation.course",
                "bullseye | 'diameterMm': 20, 'legs': [{'lengthMm': 10, 'directionDegrees': 90}] | observation.legs",
                "star-break | 'legs': [{'lengthMm': 0, 'directionDegrees': 90}] | observation.legs[0].lengthMm",
                "star-break | 'legs': [{'lengthMm': 9, 'directionDegrees': 361}] |"
                        + " observation.legs[0].directionDegrees",
                "star-break | 'legs': [{'lengthMm': 400, 'directionDegrees': 180}] | observation.legs",
                "star-break | 'diameterMm': 20, 'bodyMm': 10 | observation.bodyMm",
                "combination-break | 'diameterMm': 20, 'bodyMm': 21 | observation.bodyMm",
                "combination-break | 'diameterMm': 20, 'arisenOn': '2199-01-01' | observation.arisenOn",
                "star-break | 'pitMm': 2 | observation.diameterMm"
            })
    void whatDoesNotFitIsSaidOfItsField(String kind, String lengths, String field) {
        var result = post("/damages", report(kind, """
            "xMm": 0, "yMm": 300, "source": "gauge", %s\
            """.formatted(lengths.replace('\'', '"'))));
        assertThat(result).as(() -> text(result)).hasStatus(422);
        assertThat(json.readTree(text(result))
                        .path("errors")
                        .path(0)
                        .path("field")
                        .asString())
                .isEqualTo(field);
    }

    /** 60 mm to the right and 24 up: 84 mm along it, √(60² + 24²) = 64.6 mm across. */
    private static final String COURSE =
            "'course': [{'xMm': 0, 'yMm': 300}, {'xMm': 60, 'yMm': 300}, {'xMm': 60, 'yMm': 324}]";

    @ParameterizedTest(name = "{0}: {2}")
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "'source': 'gauge', 'longestLegMm': 60 | observation.longestLegMm |"
                        + " The line drawn is 84 mm long, you say 60. Draw it anew, or leave this empty",
                "'source': 'eye', 'longestLegMm': 60 | observation.longestLegMm |"
                        + " The line drawn is 84 mm long, you say 60. Draw it anew, or leave this empty",
                "'source': 'gauge', 'longestLegMm': 80.5, 'diameterStandardUncertaintyMm': 0.5 |"
                        + " observation.longestLegMm |"
                        + " The line drawn is 84 mm long, you say 80.5. Draw it anew, or leave this empty",
                "'source': 'gauge', 'diameterMm': 84 | observation.diameterMm |"
                        + " The line drawn is 65 mm across, you say 84. Draw it anew, or leave this empty"
            })
    void whatIsSaidOfACrackAgreesWithItsLine(String said, String field, String message) {
        refused(said + ", " + COURSE, field, message);
    }

    @ParameterizedTest(name = "{0}: {2}")
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "'source': 'gauge', 'diameterMm': 60, 'longestLegMm': 59.9 | observation.longestLegMm |"
                        + " The crack is 60 mm across, so it is at least as long; you say 59.9",
                "'source': 'gauge', 'toXMm': 60, 'toYMm': 300, 'longestLegMm': 50 | observation.longestLegMm |"
                        + " The crack is 60 mm across, so it is at least as long; you say 50",
                "'source': 'gauge', 'toXMm': 60, 'toYMm': 300, 'diameterMm': 40 | observation.diameterMm |"
                        + " Its ends are 60 mm apart, you say 40 across. Give its largest distance across, or leave this empty"
            })
    void aCrackIsNoShorterThanItIsAcross(String said, String field, String message) {
        refused(said, field, message);
        var straight = created("crack", """
            "xMm": 0, "yMm": 300, "source": "gauge", "layers": "outer", "diameterMm": 60, "longestLegMm": 60            """);
        assertThat(straight.path("observation").path("longestLegMm").asDouble()).isEqualTo(60);
    }

    private void refused(String said, String field, String message) {
        var result = post("/damages", report("crack", "\"xMm\": 0, \"yMm\": 300, " + said.replace('\'', '"')));
        assertThat(result).as(() -> text(result)).hasStatus(422);
        var error = json.readTree(text(result)).path("errors").path(0);
        assertThat(error.path("field").asString()).isEqualTo(field);
        assertThat(error.path("message").asString()).isEqualTo(message);
    }

    @Test
    void theLineTellsSizeAndLengthWhereBothAgreeWithIt() {
        var damage = created("crack", """
            "xMm": 0, "yMm": 300, "source": "gauge", "layers": "outer", "diameterMm": 65.5, "longestLegMm": 82, %s            """.formatted(COURSE.replace('\'', '"')));
        var seen = damage.path("observation");
        assertThat(seen.path("longestLegMm").asDouble()).isEqualTo(84);
        assertThat(seen.path("diameterMm").asDouble()).isEqualTo(64.6);
    }

    @Test
    void theFormSaysItBesideTheField() {
        var result = mvc.post()
                .uri("/report")
                .with(authentication(new ActingAuthentication(owner.person(Role.TECHNICIAN))))
                .with(csrf())
                .param("vehicleId", vehicle.toString())
                .param("kind", "crack")
                .param("xMm", "0")
                .param("yMm", "300")
                .param("layers", "outer")
                .param("course", "0 300\n60 300\n60 324")
                .param("diameterMm", "40")
                .exchange();
        assertThat(result).hasStatus(422);
        assertThat(text(result)).contains("The line drawn is 65 mm across, you say 40");
    }

    @Test
    void anEndBeyondTheEdgeSaysThatTheCrackReachesIt() {
        var beyond = post("/damages", report("crack", """
            "xMm": 0, "yMm": 60, "source": "gauge", "layers": "outer",
            "course": [{"xMm": 0, "yMm": 60}, {"xMm": 0, "yMm": -4}]\
            """));
        assertThat(beyond).as(() -> text(beyond)).hasStatus(201);
        var far = post("/damages", report("crack", """
            "xMm": 0, "yMm": 60, "source": "gauge", "layers": "outer",
            "course": [{"xMm": 0, "yMm": 60}, {"xMm": 0, "yMm": -11}]\
            """));
        assertThat(far).hasStatus(422);
    }

    @Test
    void aBodyAndTheDayItAroseAreRemembered() {
        var damage = created("combination-break", """
            "xMm": 300, "yMm": 420, "diameterMm": 40, "source": "gauge", "layers": "outer", "bodyMm": 15.5,
            "arisenOn": "2026-01-05\"\
            """);
        assertThat(damage.path("observation").path("bodyMm").asDouble()).isEqualTo(15.5);
        var id = damage.path("id").asString();
        var again = post("/damages/" + id + "/observations", """
            {"observation": {"xMm": 300, "yMm": 420, "diameterMm": 41, "source": "gauge"}}\
            """);
        assertThat(again).hasStatus(201);
        assertThat(json.readTree(text(again))
                        .path("observation")
                        .path("arisenOn")
                        .asString())
                .as("what was known stays")
                .isEqualTo("2026-01-05");
    }

    @Test
    void theFormTakesCornersInLinesAndSaysWhichLineIsWrong() {
        var wrong = form("crack", "0 300\n60", "");
        assertThat(wrong).hasStatus(422);
        assertThat(text(wrong)).contains("Line 2: two numbers", "0 300\n60");
        var taken = form("crack", "0 300\n60,5 310,25\n\n−90 / 320", "");
        assertThat(taken).as(() -> text(taken)).hasStatus3xxRedirection();
        var seen = read("/damages").path("items").path(0).path("id").asString();
        var course = read("/damages/" + seen).path("observation").path("course");
        assertThat(course).hasSize(3);
        assertThat(course.path(1).path("xMm").asDouble()).isEqualTo(60.5);
        assertThat(course.path(2).path("xMm").asDouble()).isEqualTo(-90);
        assertThat(page("/damages/" + seen + "/observe")).contains("0 300\n60.5 310.25\n-90 320");
    }

    @Test
    void theFormTakesLegsByTheHour() {
        var half = form("star-break", "", "9");
        assertThat(text(half)).contains("A leg has both a length and the hour");
        var taken = form("star-break", "", "9", "4,5");
        assertThat(taken).as(() -> text(taken)).hasStatus3xxRedirection();
        var seen = read("/damages").path("items").path(0).path("id").asString();
        var leg = read("/damages/" + seen).path("observation").path("legs").path(0);
        assertThat(leg.path("directionDegrees").asDouble()).isEqualTo(135);
        assertThat(page("/damages/" + seen + "/observe")).containsPattern("name=\"legs\\[0].hour\" value=\"4\\.5\"");
    }

    private MvcTestResult form(String kind, String course, String leg) {
        return form(kind, course, leg, null);
    }

    private MvcTestResult form(String kind, String course, String leg, @Nullable String hour) {
        var request = mvc.post()
                .uri("/report")
                .with(authentication(new ActingAuthentication(owner.person(Role.TECHNICIAN))))
                .with(csrf())
                .param("vehicleId", vehicle.toString())
                .param("kind", kind)
                .param("xMm", "0")
                .param("yMm", "300")
                .param("layers", "outer")
                .param("course", course)
                .param("legs[0].lengthMm", leg);
        return (hour == null ? request : request.param("legs[0].hour", hour)).exchange();
    }

    private String report(String kind, String observation) {
        return """
            {"vehicleId": "%s", "kind": "%s", "observation": {%s}}\
            """.formatted(vehicle, kind, observation);
    }

    private JsonNode created(String kind, String observation) {
        var result = post("/damages", report(kind, observation));
        assertThat(result).as(() -> text(result)).hasStatus(201);
        return json.readTree(text(result));
    }

    private MvcTestResult post(String path, String body) {
        return mvc.post()
                .uri("/api/v1" + path)
                .header("Authorization", owner.bearer(Role.MANAGER))
                .contentType(MediaType.APPLICATION_JSON)
                .content(body)
                .exchange();
    }

    private JsonNode read(String path) {
        var result = mvc.method(HttpMethod.GET)
                .uri("/api/v1" + path)
                .header("Authorization", owner.bearer(Role.MANAGER))
                .exchange();
        assertThat(result).as(() -> text(result)).hasStatusOk();
        return json.readTree(text(result));
    }

    private String page(String path) {
        var result = mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(owner.person(Role.MANAGER))))
                .exchange();
        assertThat(result).as(() -> text(result)).hasStatusOk();
        return text(result);
    }

    private static String text(MvcTestResult result) {
        try {
            return result.getResponse().getContentAsString();
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}
