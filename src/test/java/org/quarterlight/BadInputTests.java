package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.UnsupportedEncodingException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeSet;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.quarterlight.ApiDocument.Operation;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.node.ObjectNode;

/** Whatever is sent, the answer is a problem that says what is wrong, and never a failure of ours. */
@QuarterlightTest
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class BadInputTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestBusiness business;

    private ApiDocument document = new ApiDocument(ApiDocument.JSON.createObjectNode());
    private List<Operation> withBody = List.of();
    private final Map<String, Object> ids = new LinkedHashMap<>();
    private final List<String> bearers = new ArrayList<>();
    private final Map<String, UUID> bodyIds = new LinkedHashMap<>();

    @BeforeAll
    void make() {
        document = ApiDocument.of(mvc);
        withBody = document.operations().stream()
                .filter(each -> each.takes("application/json"))
                .toList();
        var lived = business.live(mvc);
        ids.putAll(Map.of(
                "depots", lived.depot(),
                "vehicles", lived.vehicle(),
                "glass-patterns", lived.pattern(),
                "damages", lived.openDamage(),
                "jobs", lived.job(),
                "vans", lived.van(),
                "resin-lots", lived.lot(),
                "partners", lived.partner(),
                "imports", lived.vehicleImport(),
                "members",
                        Objects.requireNonNull(lived.fleet().person(Role.DRIVER).person())));
        ids.put("shifts", lived.shift());
        ids.put("methods", lived.method());
        ids.put("lamps", lived.lamp());
        ids.put("inspection-plans", lived.inspectionPlan());
        ids.put("inspections", lived.inspection());
        ids.put("rule-sheets", lived.ownSheet());
        bodyIds.putAll(Map.of("depot", lived.depot(), "vehicleId", lived.vehicle(), "damages", lived.openDamage()));
        for (var role : List.of(Role.MANAGER, Role.ADMINISTRATOR)) {
            bearers.add(lived.fleet().bearer(role));
        }
        for (var role : List.of(Role.DISPATCHER, Role.TECHNICIAN)) {
            bearers.add(lived.repairer().bearer(role));
        }
    }

    @Test
    void bodiesThatAreNoneAreRefused() {
        var wrong = new TreeSet<String>();
        for (var operation : withBody) {
            for (var body : List.of("", "[]", "{", "null", "\"words\"", "12", "{\"a\":}", "\u0000", "[[[[[[", "{}")) {
                var answer = byWhoever(operation, body, "application/json");
                if (optional(operation) && List.of("", "null", "{}").contains(body)
                        || body.equals("{}")
                                && (required(operation).isEmpty() || operation.verb() == HttpMethod.PATCH)) {
                    check(operation, body, answer, false, wrong);
                } else {
                    check(operation, body, answer, true, wrong);
                }
            }
            for (var type : List.of("text/plain", "application/xml", "application/x-www-form-urlencoded", "nonsense")) {
                check(operation, type, byWhoever(operation, "{}", type), true, wrong);
            }
        }
        assertThat(wrong).isEmpty();
    }

    @Test
    void valuesOfTheWrongKindAreRefusedWithTheNameOfTheirField() {
        var wrong = new TreeSet<String>();
        for (var operation : withBody) {
            var good = Objects.requireNonNull(document.body(operation, bodyIds));
            document.bodySchema(operation).path("properties").properties().forEach(property -> {
                for (var value : badValues(document.resolved(property.getValue()))) {
                    if (good instanceof ObjectNode object) {
                        var body = object.deepCopy();
                        body.set(property.getKey(), value);
                        var answer = byWhoever(operation, body.toString(), "application/json");
                        var what = property.getKey() + " = " + shortened(value.toString());
                        check(operation, what, answer, true, wrong);
                        if (answer.getStatus() == 422 && !text(answer).contains("\"errors\":[{\"field\":\"")) {
                            wrong.add(operation + " with " + what + " names no field: " + shortened(text(answer)));
                        }
                    }
                }
            });
        }
        assertThat(wrong).isEmpty();
    }

    /** Odd, and perhaps within what is allowed: what counts is that it is no failure. */
    @Test
    void oddValuesAreNoFailure() {
        var wrong = new TreeSet<String>();
        for (var operation : withBody) {
            var good = Objects.requireNonNull(document.body(operation, bodyIds));
            document.bodySchema(operation).path("properties").properties().forEach(property -> {
                for (var value : oddValues(document.resolved(property.getValue()))) {
                    if (good instanceof ObjectNode object) {
                        var body = object.deepCopy();
                        body.set(property.getKey(), value);
                        check(
                                operation,
                                property.getKey() + " = " + shortened(value.toString()),
                                byWhoever(operation, body.toString(), "application/json"),
                                false,
                                wrong);
                    }
                }
            });
        }
        assertThat(wrong).isEmpty();
    }

    /** In place of the value that the address has for it. */
    private static String with(String address, String name, String value) {
        var rest = address.replaceAll("(?<=[?&])" + Pattern.quote(name) + "=[^&]*(&|$)", "");
        var joint = rest.contains("?") ? (rest.endsWith("?") || rest.endsWith("&") ? "" : "&") : "?";
        return rest + joint + name + "=" + value;
    }

    @Test
    void oddParametersAreRefused() {
        var wrong = new TreeSet<String>();
        for (var operation : document.operations()) {
            if (operation.verb() != HttpMethod.GET || operation.path().endsWith("/events")) {
                continue;
            }
            for (var parameter : operation.parameters("query")) {
                var name = parameter.path("name").asString();
                var schema = parameter.path("schema");
                var free = ApiDocument.type(schema).equals("string")
                        && !schema.has("format")
                        && schema.path("enum").isEmpty()
                        && !List.of("after", "state").contains(name);
                for (var value : List.of(
                        "0",
                        "-1",
                        "201",
                        "9999999999999",
                        "x",
                        "maybe",
                        "%00",
                        "%F0%9F%9A%8C",
                        "WyJuZXdlc3QiLCJ4Il0",
                        "WyJuZXdlc3QiLCJ4IiwieSJd",
                        "WyJuYW1lIiwieCIsInkiXQ",
                        "WyJ3b3JzdCIsIngiLCJ5IiwieiJd",
                        "'--")) {
                    // U+0000 is trimmed away like a blank, and a blank is no value.
                    var own = value.equals("%00") && !List.of("limit", "after").contains(name)
                            || value.equals("0") && ApiDocument.type(schema).equals("boolean")
                            || value.matches("\\d+") && ApiDocument.type(schema).equals("number");
                    for (var bearer : bearers) {
                        var answer = mvc.get()
                                .uri(java.net.URI.create(with(address(operation), name, value)))
                                .header("Authorization", bearer)
                                .exchange()
                                .getResponse();
                        if (answer.getStatus() != 403 && answer.getStatus() != 404) {
                            check(operation, name + "=" + value, answer, !free && !own, wrong);
                        }
                    }
                }
            }
        }
        assertThat(wrong).isEmpty();
    }

    @Test
    void oddIdsAreAbsent() {
        var wrong = new TreeSet<String>();
        for (var operation : document.operations()) {
            if (!operation.path().contains("{id}")) {
                continue;
            }
            for (var id : List.of("x", "0", "null", "00000000-0000-0000-0000-000000000000", "1-1-1-1-1")) {
                for (var bearer : bearers) {
                    var request = mvc.method(operation.verb())
                            .uri(java.net.URI.create(operation
                                    .path()
                                    .replace("{id}", id)
                                    .replace("{date}", "2026-01-01")
                                    .replaceAll("\\{\\w+}", id)))
                            .header("Authorization", bearer)
                            .header("If-Match", "\"0\"");
                    var body = document.body(operation, bodyIds);
                    if (body != null) {
                        request.contentType("application/json").content(body.toString());
                    }
                    check(operation, "id " + id, request.exchange().getResponse(), true, wrong);
                }
            }
        }
        assertThat(wrong).isEmpty();
    }

    private static List<JsonNode> badValues(JsonNode schema) {
        var texts = Stream.of("\"x\"", "{}", "[]", "true", "12", "[[1]]", "{\"a\": 1}")
                .map(ApiDocument.JSON::readTree)
                .toList();
        var type = ApiDocument.type(schema);
        var format = schema.path("format").asString("");
        var words = !schema.path("enum").isEmpty();
        return texts.stream()
                .filter(value -> switch (type) {
                    // An empty array is read as no date and no time of day.
                    case "string" ->
                        value.isObject()
                                || value.isArray()
                                        && (!value.isEmpty()
                                                || !List.of("date", "time-local")
                                                        .contains(format))
                                || (words || !format.isEmpty()) && value.isString();
                    case "boolean" -> value.isObject() || value.isArray() || value.isString();
                    case "integer", "number" -> !value.isNumber();
                    case "array" -> value.isString() || value.isBoolean() || value.isObject();
                    case "object" -> value.isString() || value.isBoolean() || value.isArray();
                    default -> false;
                })
                .toList();
    }

    private static List<JsonNode> oddValues(JsonNode schema) {
        var nodes = ApiDocument.JSON.getNodeFactory();
        return switch (ApiDocument.type(schema)) {
            case "string" ->
                List.of(
                        nodes.stringNode(""),
                        nodes.stringNode("   "),
                        nodes.stringNode("x".repeat(10_000)),
                        nodes.stringNode("a\u0000b"),
                        nodes.stringNode("a\u0007\u001b\r\nb"),
                        nodes.stringNode("\ud800"),
                        nodes.stringNode("+999999999-12-31T23:59:59Z"),
                        nodes.stringNode("-999999999-01-01"),
                        nodes.stringNode("9999999-01-01"),
                        nodes.stringNode("0000-01-01T00:00:00Z"),
                        nodes.numberNode(12),
                        nodes.nullNode());
            case "integer", "number" ->
                List.of(
                        nodes.numberNode(Long.MAX_VALUE),
                        nodes.numberNode(-1),
                        nodes.numberNode(0),
                        nodes.numberNode(new java.math.BigDecimal("1e400")),
                        nodes.numberNode(new java.math.BigDecimal("1e-400")),
                        nodes.numberNode(new java.math.BigDecimal("1e1000000000")),
                        nodes.numberNode(1.5),
                        nodes.stringNode("NaN"),
                        nodes.nullNode());
            case "array" ->
                List.of(
                        ApiDocument.JSON.readTree("[null]"),
                        ApiDocument.JSON.readTree("[{}]"),
                        ApiDocument.JSON.readTree("[\"\\u0000\"]"),
                        ApiDocument.JSON.readTree("[" + "\"x\",".repeat(2000) + "\"x\"]"),
                        nodes.nullNode());
            case "object" ->
                List.of(
                        ApiDocument.JSON.readTree("{\"\": 1}"),
                        ApiDocument.JSON.readTree("{\"a\": null}"),
                        ApiDocument.JSON.readTree("{\"days\": {\"monday\": null}}"),
                        ApiDocument.JSON.readTree("{\"m1\": null, \"repair\": null}"),
                        ApiDocument.JSON.readTree("{\"m1\": [\"\\u0000\"]}"),
                        nodes.nullNode());
            default -> List.of();
        };
    }

    /** By the first who may: the one whose answer is not that the role or the organisation has no business there. */
    private MockHttpServletResponse byWhoever(Operation operation, String body, String type) {
        MockHttpServletResponse last = null;
        for (var bearer : bearers) {
            var request = mvc.method(operation.verb())
                    .uri(address(operation))
                    .header("Authorization", bearer)
                    .header("If-Match", "\"0\"")
                    .content(body);
            if (type.equals("nonsense")) {
                request.header("Content-Type", type);
            } else {
                request.contentType(type);
            }
            last = request.exchange().getResponse();
            if (last.getStatus() >= 500 || last.getStatus() != 403 && last.getStatus() != 404) {
                return last;
            }
        }
        return Objects.requireNonNull(last);
    }

    private String address(Operation operation) {
        return ApiDocument.address(
                operation,
                (resource, name) -> name.equals("date") ? "2026-01-01" : ids.getOrDefault(resource, UUID.randomUUID()));
    }

    private boolean optional(Operation operation) {
        return !operation.node().at("/requestBody/required").asBoolean(false);
    }

    private List<JsonNode> required(Operation operation) {
        return document.bodySchema(operation).path("required").valueStream().toList();
    }

    private static void check(
            Operation operation, String what, MockHttpServletResponse answer, boolean refused, TreeSet<String> wrong) {
        var status = answer.getStatus();
        var problem = String.valueOf(answer.getContentType()).startsWith("application/problem+json");
        if (status >= 500 || refused && status < 400 || status >= 400 && !problem) {
            wrong.add(operation + " with " + shortened(what) + ": " + status + " "
                    + shortened(String.valueOf(text(answer))));
        }
    }

    private static String shortened(@Nullable String text) {
        var whole = String.valueOf(text);
        return whole.length() > 160 ? whole.substring(0, 160) + "…" : whole;
    }

    private static String text(MockHttpServletResponse answer) {
        try {
            return answer.getContentAsString();
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}
