package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.lang.reflect.Field;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.quarterlight.TestBusiness.Lived;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** What people type that cannot be taken is said beside its field, and never a failure of ours. */
@QuarterlightTest
class BadFormsTests {
    private static final String NONE = "a\0b";

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestBusiness business;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Rulebook rulebook;

    @Autowired
    private RequestMappingHandlerMapping requestMappingHandlerMapping;

    @Test
    void aDecimalMayHaveACommaAndWhatIsNoNumberIsSaidBesideTheField() {
        var manager = organisations.fleet().person(Role.MANAGER);
        var typed =
                new TreeMap<>(Map.of("version", "0", "leaveAlonePitMm", "two", "sheets-M1", "common-practice-repair"));
        var wrong = post(manager, "/rule-sheets/chosen", typed);
        assertThat(wrong).hasStatus(422);
        assertThat(text(wrong))
                .contains("leaveAlonePitMm-error", "Give a number", "value=\"two\"")
                .containsPattern("name=\"sheets-M1\" value=\"common-practice-repair\" checked");

        typed.remove("sheets-M1");
        typed.put("leaveAlonePitMm", "2,5");
        assertThat(post(manager, "/rule-sheets/chosen", typed)).hasStatus3xxRedirection();
        assertThat(TestOrganisations.as(manager, () -> rulebook.choices()).leaveAlonePitMm())
                .isEqualTo(2.5);
        typed.put("version", "1");
        typed.put("leaveAlonePitMm", "21");
        assertThat(text(post(manager, "/rule-sheets/chosen", typed))).contains("At most 20 mm");
    }

    @Test
    void aFieldThatIsNoNumberIsNamedAsItsFormNamesIt() {
        var manager = organisations.fleet().person(Role.ADMINISTRATOR);
        var answer = post(manager, "/settings", Map.of("name", "Fleet", "pattern", "two", "version", "0"));
        assertThat(answer).hasStatus(422);
        assertThat(text(answer)).contains("Pattern is not a whole number").doesNotContain("In the address");
    }

    @Test
    void aCharacterThatIsNoneIsSaidBesideItsField() {
        var dispatcher = organisations.repairer().person(Role.DISPATCHER);
        for (var field : List.of("number", "resin")) {
            var typed = new TreeMap<>(Map.of("number", "L 1", "resin", "Thin", "expiresOn", "2031-05-01"));
            typed.put(field, NONE);
            typed.put("idempotencyKey", UUID.randomUUID().toString());
            var answer = post(dispatcher, "/stock", typed);
            assertThat(answer).hasStatus(422);
            assertThat(text(answer))
                    .contains("id=\"" + field + "-error\">Holds a character that is none", "value=\"ab\"");
        }
    }

    /** Every text that a form or an address takes, of every page. */
    @Test
    void aCharacterThatIsNoneIsNoFailureAnywhere() {
        var lived = business.live(mvc);
        var actors = List.of(
                lived.fleet().person(Role.MANAGER),
                lived.fleet().person(Role.ADMINISTRATOR),
                lived.repairer().person(Role.DISPATCHER),
                lived.repairer().person(Role.TECHNICIAN),
                organisations.platform().person(Role.OPERATOR));
        var wrong = new TreeSet<String>();
        var tried = new ArrayList<String>();
        requestMappingHandlerMapping.getHandlerMethods().forEach((mapping, handler) -> {
            if (handler.getBeanType().isAnnotationPresent(RestController.class)
                    || !handler.getBeanType().getName().startsWith("org.quarterlight.")) {
                return;
            }
            for (var pattern : mapping.getPatternValues()) {
                var method = mapping.getMethodsCondition().getMethods().contains(RequestMethod.POST)
                        ? HttpMethod.POST
                        : HttpMethod.GET;
                for (var field : texts(handler)) {
                    for (var actor : actors) {
                        var fields = usual(handler);
                        fields.put(field, NONE);
                        var answer = send(method, actor, address(pattern, lived), fields);
                        tried.add(method + " " + pattern + " " + field);
                        if (answer.getUnresolvedException() != null
                                || answer.getResponse().getStatus() >= 500) {
                            wrong.add(method + " " + pattern + " with " + field + " by " + actor.roles());
                        }
                    }
                }
            }
        });
        assertThat(wrong).isEmpty();
        assertThat(tried)
                .hasSizeGreaterThan(100)
                .contains("POST /stock resin", "POST /jobs/{id}/abandon reason", "GET /vehicles search");
    }

    @Test
    void signingInAndKeysTakeNoSuchCharacterEither() {
        var signIn = mvc.post()
                .uri("/sign-in")
                .with(csrf())
                .contentType("application/x-www-form-urlencoded")
                .param("email", NONE)
                .param("password", NONE)
                .exchange();
        assertThat(signIn).hasStatus3xxRedirection();
        assertThat(signIn.getResponse().getHeader("Location")).endsWith("/sign-in?failed");
        var keyed = post(
                organisations.repairer().person(Role.DISPATCHER),
                "/stock",
                Map.of("number", "L 1", "resin", "Thin", "expiresOn", "2031-05-01", "idempotencyKey", NONE));
        assertThat(keyed).hasStatus(400);
    }

    private static List<String> texts(HandlerMethod handler) {
        var names = new ArrayList<String>();
        for (var parameter : handler.getMethodParameters()) {
            var asked = parameter.getParameterAnnotation(RequestParam.class);
            if (asked != null && parameter.getParameterType() == String.class) {
                parameter.initParameterNameDiscovery(new org.springframework.core.DefaultParameterNameDiscoverer());
                names.add(Objects.requireNonNull(parameter.getParameterName()));
            }
            if (parameter.hasParameterAnnotation(ModelAttribute.class)) {
                for (var field : parameter.getParameterType().getDeclaredFields()) {
                    if (field.getType() == String.class && !field.isSynthetic()) {
                        names.add(field.getName());
                    }
                }
            }
        }
        return names;
    }

    /** Something sensible for the other fields, so that the request gets as far as it can. */
    private static Map<String, String> usual(HandlerMethod handler) {
        var fields = new TreeMap<String, String>();
        for (var parameter : handler.getMethodParameters()) {
            parameter.initParameterNameDiscovery(new org.springframework.core.DefaultParameterNameDiscoverer());
            if (parameter.hasParameterAnnotation(RequestParam.class)) {
                put(fields, parameter.getParameterName(), parameter.getParameterType());
            }
            if (parameter.hasParameterAnnotation(ModelAttribute.class)) {
                for (Field field : parameter.getParameterType().getDeclaredFields()) {
                    put(fields, field.getName(), field.getType());
                }
            }
        }
        return fields;
    }

    private static void put(Map<String, String> fields, @org.jspecify.annotations.Nullable String name, Class<?> type) {
        if (name == null || Map.class.isAssignableFrom(type) || List.class.isAssignableFrom(type)) {
            return;
        }
        if (type == String.class) {
            fields.put(name, "words");
        } else if (type == UUID.class) {
            fields.put(name, new UUID(0, 1).toString());
        } else if (type.isEnum()) {
            fields.put(name, ((Enum<?>) type.getEnumConstants()[0]).name());
        } else if (type == int.class || Number.class.isAssignableFrom(type)) {
            fields.put(name, "1");
        } else if (type == java.time.LocalDate.class) {
            fields.put(name, "2031-05-01");
        }
    }

    private static String address(String pattern, Lived lived) {
        return pattern.replaceFirst("^/jobs/\\{id}", "/jobs/" + lived.job())
                .replaceFirst("^/damages/\\{id}", "/damages/" + lived.openDamage())
                .replaceFirst("^/vehicles/\\{id}", "/vehicles/" + lived.vehicle())
                .replaceFirst("^/depots/\\{id}", "/depots/" + lived.depot())
                .replaceFirst("\\{picture}", lived.patternPicture().toString())
                .replaceFirst("^/glass-patterns/\\{id}", "/glass-patterns/" + lived.pattern())
                .replaceFirst("^/rule-sheets/\\{id}", "/rule-sheets/" + lived.ownSheet())
                .replaceFirst("\\{preview}", lived.preview().toString())
                .replaceFirst("\\{date}|\\{day}", lived.day().toString())
                .replaceAll("\\{\\w+}", lived.van().toString());
    }

    private MvcTestResult post(Acting by, String path, Map<String, String> fields) {
        return send(HttpMethod.POST, by, path, fields);
    }

    private MvcTestResult send(HttpMethod method, Acting by, String path, Map<String, String> fields) {
        var request = mvc.method(method)
                .uri(path)
                .with(authentication(new ActingAuthentication(by)))
                .with(csrf())
                .contentType("application/x-www-form-urlencoded");
        fields.forEach(request::param);
        return request.exchange();
    }

    private static String text(MvcTestResult answer) {
        try {
            return answer.getResponse().getContentAsString();
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}
