package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.UnsupportedEncodingException;
import java.util.Map;
import java.util.TreeSet;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import tools.jackson.databind.JsonNode;

/** The description of the API says what the API does. */
@QuarterlightTest
class OpenApiTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestBusiness business;

    private ApiDocument document = new ApiDocument(ApiDocument.JSON.createObjectNode());

    @BeforeEach
    void read() {
        document = ApiDocument.of(mvc);
    }

    @Test
    void isOpenApiAndEveryReferenceLeadsSomewhere() {
        assertThat(document.root().path("openapi").asString()).startsWith("3.");
        assertThat(document.root().at("/info/title").asString()).isEqualTo("Quarterlight");
        var dangling = new TreeSet<String>();
        document.root().findValuesAsString("$ref").forEach(reference -> {
            if (document.root().at(reference.substring(1)).isMissingNode()) {
                dangling.add(reference);
            }
        });
        assertThat(dangling).isEmpty();
        assertThat(document.operations().stream()
                        .map(each -> each.node().path("operationId").asString()))
                .doesNotHaveDuplicates();
    }

    @Test
    void everyOperationNamesItsRefusals() {
        assertThat(document.operations()).allSatisfy(operation -> {
            var responses = operation.node().path("responses");
            assertThat(responses.propertyNames()).as(operation.toString()).contains("401", "403");
            if (operation.path().contains("{")) {
                assertThat(responses.propertyNames()).as(operation.toString()).contains("404");
            }
            if (operation.verb() == HttpMethod.PATCH) {
                assertThat(operation.needsVersion()).as(operation.toString()).isTrue();
                assertThat(responses.propertyNames()).as(operation.toString()).contains("412", "428", "422");
            }
            responses.properties().forEach(response -> {
                if (Integer.parseInt(response.getKey()) >= 400) {
                    assertThat(response.getValue().path("content").propertyNames())
                            .as("%s %s", operation, response.getKey())
                            .containsExactly("application/problem+json");
                }
            });
        });
    }

    @Test
    void noParameterIsNamedTwice() {
        assertThat(document.operations())
                .allSatisfy(operation -> assertThat(operation
                                .node()
                                .path("parameters")
                                .valueStream()
                                .map(each -> each.path("in").asString() + " "
                                        + each.path("name").asString()))
                        .as(operation.toString())
                        .doesNotHaveDuplicates());
    }

    @Test
    void propertiesAreCamelCaseAndWordsLowerCaseWithHyphens() {
        document.root().at("/components/schemas").properties().forEach(schema -> {
            assertThat(schema.getValue().path("properties").propertyNames())
                    .as(schema.getKey())
                    .allMatch(name -> name.matches("[a-z][a-zA-Z0-9]*"));
        });
        var words = new TreeSet<String>();
        document.root()
                .findValues("enum")
                .forEach(all -> all.valueStream().forEach(word -> words.add(word.asString())));
        assertThat(words)
                .contains("stand-down", "star-break", "under-way", "in-hand", "manager")
                .allMatch(word -> word.matches("[a-z0-9]+(-[a-z0-9]+)*|[A-Z]\\d"));
    }

    @Test
    void whatIsReadIsAsDescribed() {
        var lived = business.lived(mvc);
        Map<String, Object> ids = Map.ofEntries(
                Map.entry("depots", lived.depot()),
                Map.entry("vehicles", lived.vehicle()),
                Map.entry("glass-patterns", lived.pattern()),
                Map.entry("damages", lived.openDamage()),
                Map.entry("inspection-plans", lived.inspectionPlan()),
                Map.entry("inspections", lived.inspection()),
                Map.entry("jobs", lived.job()),
                Map.entry("vans", lived.van()),
                Map.entry("shifts", lived.shift()),
                Map.entry("resin-lots", lived.lot()),
                Map.entry("methods", lived.method()),
                Map.entry("lamps", lived.lamp()),
                Map.entry("partners", lived.partner()),
                Map.entry("imports", lived.vehicleImport()));
        var wrong = new TreeSet<String>();
        var compared = 0;
        for (var operation : document.operations()) {
            if (operation.verb() != HttpMethod.GET) {
                continue;
            }
            var described = operation.node().at("/responses/200/content/application~1json/schema");
            if (described.isMissingNode()) {
                continue;
            }
            for (var bearer : new String[] {
                lived.fleet().bearer(Role.MANAGER),
                lived.fleet().bearer(Role.ADMINISTRATOR),
                lived.repairer().bearer(Role.DISPATCHER)
            }) {
                var answer = mvc.get()
                        .uri(ApiDocument.address(
                                operation,
                                (resource, name) -> name.equals("date")
                                        ? lived.day()
                                        : ids.getOrDefault(resource, "common-practice-repair")))
                        .header("Authorization", bearer)
                        .exchange()
                        .getResponse();
                if (answer.getStatus() == 200) {
                    compare(operation.toString(), json(answer::getContentAsString), described, wrong);
                    compared++;
                }
            }
        }
        assertThat(compared).isGreaterThan(30);
        assertThat(wrong).isEmpty();
    }

    @Test
    void whatIsMadeIsAnsweredWithTheStatusDescribed() {
        var lived = business.live(mvc);
        var wrong = new TreeSet<String>();
        for (var operation : document.operations()) {
            if (operation.verb() != HttpMethod.POST || operation.path().contains("{")) {
                continue;
            }
            for (var bearer : new String[] {
                lived.fleet().bearer(Role.MANAGER),
                lived.fleet().bearer(Role.ADMINISTRATOR),
                lived.repairer().bearer(Role.DISPATCHER)
            }) {
                var status = document.send(
                                mvc,
                                operation,
                                ApiDocument.address(operation, (resource, name) -> UUID.randomUUID()),
                                bearer,
                                Map.of("depot", lived.depot(), "vehicleId", lived.vehicle()))
                        .getResponse()
                        .getStatus();
                if (!operation.node().path("responses").has(Integer.toString(status))) {
                    wrong.add(operation + " answered " + status);
                }
            }
        }
        assertThat(wrong).isEmpty();
    }

    /** Names, kinds and words of an answer, each of which its description has to know. */
    private void compare(String where, JsonNode answer, JsonNode unresolved, TreeSet<String> wrong) {
        var schema = document.resolved(unresolved);
        if (answer.isNull() || schema.isEmpty()) {
            return;
        }
        if (answer.isObject()) {
            if (ApiDocument.type(schema).equals("object")
                    && schema.path("properties").isEmpty()
                    && !schema.has("additionalProperties")) {
                return; // any object
            }
            var others = schema.path("additionalProperties");
            answer.properties().forEach(member -> {
                var described = schema.path("properties").path(member.getKey());
                if (!described.isMissingNode()) {
                    compare(where + "." + member.getKey(), member.getValue(), described, wrong);
                } else if (others.isObject()) {
                    compare(where + "." + member.getKey(), member.getValue(), others, wrong);
                } else {
                    wrong.add(where + "." + member.getKey() + " is not described");
                }
            });
            return;
        }
        if (answer.isArray()) {
            answer.forEach(item -> compare(where + "[]", item, schema.path("items"), wrong));
            return;
        }
        var type = ApiDocument.type(schema);
        var fits = answer.isString()
                ? type.equals("string")
                : answer.isBoolean() ? type.equals("boolean") : type.equals("number") || type.equals("integer");
        var words = schema.path("enum");
        if (!fits || !words.isEmpty() && words.valueStream().noneMatch(answer::equals)) {
            wrong.add(where + " = " + answer + " is not " + schema);
        }
    }

    private interface Text {
        String read() throws UnsupportedEncodingException;
    }

    private static JsonNode json(Text text) {
        try {
            return ApiDocument.JSON.readTree(text.read());
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}
