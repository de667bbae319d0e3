package org.quarterlight.fleet.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.regex.Pattern;
import javax.imageio.ImageIO;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.fleet.DepotView;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.PatternView;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.fleet.ToldLength;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.util.LinkedMultiValueMap;
import org.springframework.util.MultiValueMap;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** A glass traced over a picture, by path and by page. */
@QuarterlightTest
class TraceTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private TestFleets fleets;

    @Autowired
    private Fleet fleet;

    @Autowired
    private GlassPatterns patterns;

    @Autowired
    private JsonMapper json;

    private TestOrganisation organisation;
    private DepotView depot;

    @BeforeEach
    void makeAFleet() {
        organisation = organisations.fleet();
        depot = fleets.depot(organisation, "Millbeck Yard");
    }

    @Test
    void aProgramTracesARectangleAndTheGlassThatCarriesItIsCorrected() {
        var picture = sent();
        assertThat(picture.path("width").asInt()).isEqualTo(1600);
        // Half a millimetre for each point across, one up.
        var trace = """
            {"picture": "%s", "from": "drawing",
             "across": {"fromXPx": 200, "fromYPx": 500, "toXPx": 1400, "toYPx": 500, "lengthMm": 1500},
             "up": {"fromXPx": 800, "fromYPx": 1000, "toXPx": 800, "toYPx": 200, "lengthMm": 800},
             %%s}\
            """.formatted(picture.path("id").asString());
        var found = send("POST", "/glass-patterns/traces", null, trace.formatted("""
            "corners": [{"xPx": 160, "yPx": 1000}, {"xPx": 1440, "yPx": 1000}, {"xPx": 1440, "yPx": 200},
                {"xPx": 160, "yPx": 200}]\
            """));
        assertThat(found).hasStatusOk();
        var corner = body(found).at("/outline/corners/2");
        assertThat(corner.path("xMm").asDouble()).isCloseTo(800, within(1e-9));
        assertThat(corner.path("yMm").asDouble()).isCloseTo(800, within(1e-9));
        assertThat(body(found).at("/trace/origin/xPx").asDouble()).isCloseTo(800, within(1e-9));
        assertThat(body(found).at("/trace/origin/yPx").asDouble()).isCloseTo(1000, within(1e-9));

        var command = json.createObjectNode().put("name", "Traced coach");
        var measurements = (ObjectNode) json.valueToTree(generic().measurements());
        measurements.set("outline", body(found).path("outline"));
        command.set("measurements", measurements);
        command.set("trace", body(found).path("trace"));
        var silent = send("POST", "/glass-patterns", null, command.toString());
        assertThat(silent)
                .as("nobody has said whether the rake is this glass's")
                .hasStatus(422);
        assertThat(body(silent).at("/errors/0/field").asString()).isEqualTo("assumed");
        command.putArray("assumed").add("wipers").add("rake");
        var made = send("POST", "/glass-patterns", null, command.toString());
        assertThat(made).hasStatus(201);
        var id = body(made).path("id").asString();
        assertThat(body(made).at("/measurements/lowerWidthMm").asDouble()).isCloseTo(1600, within(1e-9));
        assertThat(body(made).at("/measurements/outline/standardUncertaintyMm").asDouble())
                .isEqualTo(body(found).at("/outline/standardUncertaintyMm").asDouble())
                .isBetween(3.0, 10.0);

        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        assertThat(send("POST", "/vehicles/" + vehicle.id() + "/glass-pattern", null, "{\"pattern\": \"" + id + "\"}"))
                .hasStatusOk();
        var corrected = send("PATCH", "/glass-patterns/" + id, "\"0\"", """
            {"measurements": {"outline": {"corners": [{"xMm": -800, "yMm": 0}, {"xMm": 800, "yMm": 0},
                {"xMm": 800, "yMm": 790}, {"xMm": -800, "yMm": 790}]}}}\
            """);
        assertThat(corrected).hasStatusOk();
        assertThat(body(corrected).path("patternVersion").asInt()).isEqualTo(2);
        assertThat(body(corrected).path("assumed").valueStream().map(JsonNode::asString))
                .as("what was assumed stays so until somebody measures it")
                .containsExactly("rake", "wipers");
        var glazing = TestOrganisations.as(organisation, Role.MANAGER, () -> fleet.glazing(vehicle.id()));
        assertThat(glazing.patternVersion()).isEqualTo(2);
        assertThat(glazing.pattern().outline().getArea()).isCloseTo(1600.0 * 790, within(1e-6));
        assertThat(TestOrganisations.as(organisation, Role.MANAGER, () -> patterns.drawn(UUID.fromString(id), 1))
                        .outline()
                        .getArea())
                .as("the version before stays as it was judged on")
                .isCloseTo(1600.0 * 800, within(1e-6));
        assertThat(send("GET", "/glass-patterns/" + id + "/drawing.svg", null, null))
                .hasStatusOk();
        assertThat(send("GET", "/glass-patterns/" + id + "/permitted.svg?kind=pit&diameterMm=3", null, null))
                .hasStatusOk();
    }

    @Test
    void aProgramIsToldWhatIsWrongWithATrace() {
        var picture = sent().path("id").asString();
        var lengths = """
            {"picture": "%s", "from": "photo",
             "across": {"fromXPx": 200, "fromYPx": 500, "toXPx": %s, "toYPx": 500, "lengthMm": %s},
             "up": {"fromXPx": 800, "fromYPx": %s, "toXPx": %s, "toYPx": 200, "lengthMm": 800},
             "corners": [{"xPx": 160, "yPx": 1000}, {"xPx": 1440, "yPx": 1000}, {"xPx": 1440, "yPx": 200}]}\
            """;
        assertThat(problem(lengths.formatted(UUID.randomUUID(), 1400, 1500, 1000, 800)))
                .isEqualTo("picture");
        assertThat(problem(lengths.formatted(picture, 1400, 9, 1000, 800))).isEqualTo("across.lengthMm");
        assertThat(problem(lengths.formatted(picture, 201, 1500, 1000, 800))).isEqualTo("across");
        assertThat(problem(lengths.formatted(picture, 1601, 1500, 1000, 800))).isEqualTo("across");
        assertThat(problem(lengths.formatted(picture, 1400, 1500, 201, 1500))).isEqualTo("up");
        assertThat(problem("{\"picture\": \"" + picture + "\", \"corners\": [null, null, null]}"))
                .isNotEmpty();

        var generic = json.valueToTree(generic().measurements()).toString();
        var crossed = send(
                "POST",
                "/glass-patterns",
                null,
                "{\"name\": \"x\", \"measurements\": " + generic.replace("\"outline\":null", """
                    "outline": {"corners": [{"xMm": -700, "yMm": 0}, {"xMm": 700, "yMm": 800},
                        {"xMm": -700, "yMm": 800}, {"xMm": 700, "yMm": 0}], "standardUncertaintyMm": 1}\
                    """)
                        + ", \"assumed\": []}");
        assertThat(crossed).hasStatus(422);
        assertThat(body(crossed).at("/errors/0/field").asString()).isEqualTo("measurements.outline.corners");
        var alone = send("POST", "/glass-patterns", null, """
            {"name": "x", "measurements": %s, "trace": {"picture": "%s", "from": "photo",
             "across": {"fromXPx": 200, "fromYPx": 500, "toXPx": 1400, "toYPx": 500, "lengthMm": 1500},
             "up": {"fromXPx": 800, "fromYPx": 1000, "toXPx": 800, "toYPx": 200, "lengthMm": 800},
             "origin": {"xPx": 800, "yPx": 1000}}}\
            """.formatted(generic, picture));
        assertThat(alone).hasStatus(422);
        assertThat(body(alone).at("/errors/0/field").asString()).isEqualTo("trace");
    }

    @Test
    void aManagerTracesByNumbersWithoutAScript() {
        var like = generic();
        var address = "/glass-patterns/" + like.id() + "/trace-new";
        assertThat(text(get("/glass-patterns/" + like.id()))).contains(address);
        assertThat(text(get(address))).contains("Without a picture the corners can be typed");
        var sent = mvc.post()
                .uri(address + "/picture")
                .multipart()
                .file(new MockMultipartFile("photo", "glass.png", "image/png", picture(900, 600)))
                .with(authentication(new ActingAuthentication(organisation.person(Role.MANAGER))))
                .with(csrf())
                .exchange();
        assertThat(sent).hasStatus3xxRedirection();
        var page = Objects.requireNonNull(sent.getResponse().getHeader("Location"));
        assertThat(page).startsWith(address + "?picture=");
        var form = text(get(page));
        assertThat(form).contains("<image", "trace-outline", "viewBox=\"0 0 900 600\"", "perspective");
        var typed = typed(form);
        typed.set("steeringSide", "left");
        typed.set("tracedFrom", "drawing");
        typed.set("name", "Traced by numbers");
        var unmeasured = text(post(address, typed));
        assertThat(unmeasured).contains("Rake: measure it", "Top of the wheel: measure it", "Edge band: measure it");
        assertThat(typed.get("rakeDegrees"))
                .as("a new glass does not begin with another one's rake")
                .containsExactly("");
        typed.put("assumed", List.of("rake", "wheel", "eye", "edge-band", "wipers"));
        typed.set("rakeDegrees", "41");
        assertThat(text(post(address, typed))).contains("Measured, or as the other glass has it");
        typed.put("assumed", List.of("wheel", "eye", "edge-band", "wipers"));
        typed.set("corners", "0 100\n1500 100\n1500 100 3\n0 900");
        var wrong = post(address, typed);
        assertThat(wrong).hasStatus(422);
        assertThat(text(wrong)).contains("Line 3: two numbers", "1500 100 3", "Traced by numbers");
        typed.set("corners", "0 100\n1500 900\n1500 100\n0 900");
        assertThat(text(post(address, typed))).contains("The edge crosses or touches itself");
        typed.set("corners", "0 100\n1500 100\n1500,0 900\n0 900");
        typed.set("upMm", "");
        assertThat(text(post(address, typed))).contains("Upright length: measure it");
        typed.set("upMm", "800");
        typed.set("do", "draw");
        var drawn = post(address, typed);
        assertThat(drawn).hasStatusOk();
        assertThat(text(drawn)).contains("Traced by numbers", "<svg");
        typed.remove("assumed");
        assertThat(post(address, typed)).as("a drawing needs no answer yet").hasStatusOk();
        typed.put("assumed", List.of("wheel", "eye", "edge-band", "wipers"));
        typed.set("do", "save");
        typed.set("idempotencyKey", "traced");
        assertThat(post(address, typed)).hasStatus3xxRedirection();

        var made = TestOrganisations.as(organisation, Role.MANAGER, () -> patterns.all()).stream()
                .filter(each -> each.name().equals("Traced by numbers"))
                .findFirst()
                .orElseThrow();
        assertThat(made.measurements().rakeDegrees()).isEqualTo(41);
        assertThat(made.measurements().wheelTopMm())
                .isEqualTo(like.measurements().wheelTopMm());
        assertThat(made.assumed())
                .containsExactly(ToldLength.WHEEL, ToldLength.EYE, ToldLength.EDGE_BAND, ToldLength.WIPERS);
        var outline = Objects.requireNonNull(made.measurements().outline());
        assertThat(outline.corners().getFirst().xMm())
                .as("moved to below the middle")
                .isEqualTo(-750);
        assertThat(outline.corners().getFirst().yMm()).isEqualTo(0);
        assertThat(outline.standardUncertaintyMm()).isPositive();
        assertThat(text(get("/glass-patterns/" + made.id())))
                .contains("traced, 4 corners, 1500 mm wide and 800 mm high", "a drawing", "taken from another glass");
        assertThat(get("/glass-patterns/" + made.id() + "/edit"))
                .hasRedirectedUrl("/glass-patterns/" + made.id() + "/trace");

        var again = typed(text(get("/glass-patterns/" + made.id() + "/trace")));
        again.set("steeringSide", "left");
        again.set("tracedFrom", "drawing");
        again.put("assumed", List.of("wheel", "eye", "edge-band", "wipers"));
        again.set("corners", "-750 0\n750 0\n750 780\n-750 780");
        assertThat(post("/glass-patterns/" + made.id() + "/trace", again)).hasStatus3xxRedirection();
        var stale = post("/glass-patterns/" + made.id() + "/trace", again);
        assertThat(stale).hasStatus(409);
        assertThat(TestOrganisations.as(organisation, Role.MANAGER, () -> patterns.read(made.id()))
                        .patternVersion())
                .isEqualTo(2);
    }

    @Test
    void otherOrganisationsAndDriversDoNotTrace() {
        var picture = sent().path("id").asString();
        var like = generic().id();
        assertThat(mvc.get()
                        .uri("/glass-patterns/" + like + "/trace-new")
                        .with(authentication(new ActingAuthentication(organisation.person(Role.DRIVER))))
                        .exchange())
                .hasStatus(403);
        assertThat(get("/glass-patterns/pictures/" + picture)).hasStatusOk().hasContentType(MediaType.IMAGE_JPEG);
        var stranger = organisations.fleet();
        fleets.depot(stranger, "Elsewhere");
        organisation = stranger;
        assertThat(get("/glass-patterns/pictures/" + picture)).hasStatus(404);
        assertThat(get("/glass-patterns/" + generic().id() + "/trace-new?picture=" + picture))
                .hasStatus(404);
    }

    private PatternView generic() {
        return TestOrganisations.as(organisation, Role.MANAGER, () -> patterns.all()).stream()
                .filter(each -> each.name().startsWith("Coach"))
                .findFirst()
                .orElseThrow();
    }

    private JsonNode sent() {
        var answer = mvc.post()
                .uri("/api/v1/glass-patterns/pictures")
                .multipart()
                .file(new MockMultipartFile("photo", "glass.png", "image/png", picture(1600, 1200)))
                .header(HttpHeaders.AUTHORIZATION, organisation.bearer(Role.MANAGER))
                .exchange();
        assertThat(answer).hasStatus(201);
        return body(answer);
    }

    private static byte[] picture(int width, int height) {
        try (var out = new ByteArrayOutputStream()) {
            ImageIO.write(new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB), "png", out);
            return out.toByteArray();
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    private String problem(String trace) {
        var answer = send("POST", "/glass-patterns/traces", null, trace);
        assertThat(answer).hasStatus(422);
        return body(answer).at("/errors/0/field").asString();
    }

    /** What a browser without scripts would send. */
    private static MultiValueMap<String, String> typed(String form) {
        var typed = new LinkedMultiValueMap<String, String>();
        var input = Pattern.compile("<input[^>]*name=\"([^\"]+)\"[^>]*value=\"([^\"]*)\"[^>]*>")
                .matcher(form);
        while (input.find()) {
            if (!List.of("_csrf", "idempotencyKey").contains(input.group(1))
                    && !input.group().contains("type=\"radio\"")
                    && !input.group().contains("type=\"checkbox\"")) {
                typed.set(input.group(1), input.group(2));
            }
        }
        return typed;
    }

    private MvcTestResult send(String method, String path, @Nullable String ifMatch, @Nullable String content) {
        var request = mvc.method(HttpMethod.valueOf(method))
                .uri("/api/v1" + path)
                .header(HttpHeaders.AUTHORIZATION, organisation.bearer(Role.MANAGER));
        if (ifMatch != null) {
            request = request.header(HttpHeaders.IF_MATCH, ifMatch);
        }
        if (content != null) {
            request = request.contentType(MediaType.APPLICATION_JSON).content(content);
        }
        return request.exchange();
    }

    private MvcTestResult get(String path) {
        return mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(organisation.person(Role.MANAGER))))
                .exchange();
    }

    private MvcTestResult post(String path, MultiValueMap<String, String> fields) {
        return mvc.post()
                .uri(path)
                .with(authentication(new ActingAuthentication(organisation.person(Role.MANAGER))))
                .with(csrf())
                .contentType(MediaType.APPLICATION_FORM_URLENCODED)
                .params(fields)
                .exchange();
    }

    private JsonNode body(MvcTestResult result) {
        return json.readTree(result.getResponse().getContentAsByteArray());
    }

    private static String text(MvcTestResult result) {
        return new String(result.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
    }
}
