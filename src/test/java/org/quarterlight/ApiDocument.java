package org.quarterlight;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.function.BiFunction;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** The service's own description of its API, and requests made from it. */
record ApiDocument(JsonNode root) {
    static final JsonMapper JSON = new JsonMapper();
    private static final Pattern PARAMETER = Pattern.compile("\\{(\\w+)}");

    /** One verb of one path. */
    record Operation(String path, HttpMethod verb, JsonNode node) {
        @Override
        public String toString() {
            return verb + " " + path;
        }

        /** The collection that the path begins with: "vehicles". */
        String resource() {
            return path.substring("/api/v1/".length()).replaceAll("/.*", "");
        }

        boolean takes(String contentType) {
            return node.path("requestBody").path("content").has(contentType);
        }

        boolean takesBody() {
            return node.has("requestBody");
        }

        boolean needsVersion() {
            return node.path("parameters")
                    .valueStream()
                    .anyMatch(each -> each.path("name").asString("").equals("If-Match"));
        }

        List<JsonNode> parameters(String in) {
            return node.path("parameters")
                    .valueStream()
                    .filter(each -> each.path("in").asString("").equals(in))
                    .toList();
        }
    }

    static ApiDocument of(MockMvcTester mvc) {
        try {
            var answer = mvc.get().uri("/api/openapi.json").exchange().getResponse();
            return new ApiDocument(JSON.readTree(answer.getContentAsByteArray()));
        } catch (RuntimeException e) {
            throw new IllegalStateException("The description cannot be read", e);
        }
    }

    List<Operation> operations() {
        var all = new ArrayList<Operation>();
        root.path("paths")
                .properties()
                .forEach(path -> path.getValue()
                        .properties()
                        .forEach(verb -> all.add(new Operation(
                                path.getKey(),
                                HttpMethod.valueOf(verb.getKey().toUpperCase(java.util.Locale.ROOT)),
                                verb.getValue()))));
        return all;
    }

    JsonNode resolved(JsonNode schema) {
        var reference = schema.path("$ref").asString("");
        return reference.isEmpty() ? schema : root.at(reference.substring(1));
    }

    JsonNode bodySchema(Operation operation) {
        return resolved(operation.node().at("/requestBody/content/application~1json/schema"));
    }

    /** A body with all that is required, as the schema allows it; ids are those given by name, else nobody's. */
    @Nullable
    JsonNode body(Operation operation, Map<String, UUID> ids) {
        return operation.takes("application/json") ? example("", bodySchema(operation), ids) : null;
    }

    private JsonNode example(String name, JsonNode unresolved, Map<String, UUID> ids) {
        var schema = resolved(unresolved);
        if (name.equals("measurements")) {
            var glass = JSON.valueToTree(GenericGlass.of(VehicleCategory.M3).measurements(SteeringSide.RIGHT));
            return ((ObjectNode) glass).put("steeringSide", "right").set("equipment", JSON.createArrayNode());
        }
        var words = schema.path("enum");
        if (!words.isEmpty()) {
            return words.get(0);
        }
        return switch (type(schema)) {
            case "object" -> {
                ObjectNode object = JSON.createObjectNode();
                schema.path("required")
                        .valueStream()
                        .map(JsonNode::asString)
                        .forEach(each -> object.set(
                                each, example(each, schema.path("properties").path(each), ids)));
                yield object;
            }
            case "array" -> {
                var array = JSON.createArrayNode();
                array.add(example(name, schema.path("items"), ids));
                yield array;
            }
            case "boolean" -> JSON.getNodeFactory().booleanNode(true);
            case "integer" ->
                JSON.getNodeFactory()
                        .numberNode(Math.max(1, schema.path("minimum").asInt(1)));
            case "number" ->
                JSON.getNodeFactory()
                        .numberNode(Math.max(
                                schema.path("minimum").asDouble(Double.NEGATIVE_INFINITY),
                                Math.min(10, schema.path("maximum").asDouble(10))));
            default -> JSON.getNodeFactory().stringNode(text(name, schema, ids));
        };
    }

    static String type(JsonNode schema) {
        var type = schema.path("type");
        return type.isArray() ? type.get(0).asString("") : type.asString("");
    }

    private static String text(String name, JsonNode schema, Map<String, UUID> ids) {
        return switch (schema.path("format").asString("")) {
            case "uuid" ->
                Objects.requireNonNullElseGet(ids.get(name), UUID::randomUUID).toString();
            case "date" -> "2030-01-31";
            case "date-time" -> "2026-01-31T10:00:00Z";
            case "time-local" -> name.startsWith("end") ? "16:00" : "08:00";
            case "email" -> "somebody@test.invalid";
            default ->
                switch (name) {
                    case "country" -> "GB";
                    case "zone" -> "Europe/London";
                    case "email" -> "new-" + UUID.randomUUID() + "@test.invalid";
                    case "password" -> "a long enough one";
                    case "registration", "number", "name" ->
                        UUID.randomUUID().toString().substring(0, 12);
                    default -> "some words";
                };
        };
    }

    /** The operation's address with its parameters put in by resource and name. */
    static String address(Operation operation, BiFunction<String, String, Object> values) {
        var address = PARAMETER
                .matcher(operation.path())
                .replaceAll(found ->
                        values.apply(operation.resource(), found.group(1)).toString());
        var query = operation.parameters("query").stream()
                .filter(each -> each.path("required").asBoolean(false))
                .map(each -> each.path("name").asString() + "="
                        + each.path("schema")
                                .path("enum")
                                .path(0)
                                .asString(
                                        each.path("schema")
                                                        .path("type")
                                                        .asString("")
                                                        .equals("number")
                                                ? "1"
                                                : "x"))
                .reduce((one, other) -> one + "&" + other);
        return query.map(all -> address + "?" + all).orElse(address);
    }

    /** Sends what the operation asks for: JSON, a picture, or a list. */
    MvcTestResult send(
            MockMvcTester mvc, Operation operation, String address, @Nullable String bearer, Map<String, UUID> ids) {
        if (operation.takes("multipart/form-data") && !operation.takes("text/csv")) {
            var request = mvc.post()
                    .uri(address)
                    .multipart()
                    .file(new MockMultipartFile("photo", "x.jpg", "image/jpeg", TestBusiness.pictureBytes()));
            if (bearer != null) {
                request.header("Authorization", bearer);
            }
            return request.exchange();
        }
        var request = mvc.method(operation.verb()).uri(address);
        if (bearer != null) {
            request.header("Authorization", bearer);
        }
        if (operation.needsVersion()) {
            request.header("If-Match", "\"0\"");
        }
        var body = body(operation, ids);
        if (body != null) {
            request.contentType(MediaType.APPLICATION_JSON).content(body.toString());
        } else if (operation.takes("text/csv")) {
            request.contentType("text/csv").content("registration\nQV 7\n");
        }
        return request.exchange();
    }
}
