package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.CookieManager;
import java.net.HttpCookie;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.quarterlight.account.AddMember;
import org.quarterlight.account.CreateToken;
import org.quarterlight.account.OwnAccess;
import org.quarterlight.account.People;
import org.quarterlight.account.Tokens;
import org.quarterlight.fleet.CabCodes;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.Tenants;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** How people and programs get in, and how they are kept out, over real connections. */
@QuarterlightTest
class SignInTests {
    private static final Pattern CSRF = Pattern.compile("name=\"_csrf\"[^>]*value=\"([^\"]+)\"");

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet fleet;

    @Autowired
    private CabCodes cabCodes;

    @Autowired
    private People people;

    @Autowired
    private OwnAccess access;

    @Autowired
    private Tokens tokens;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    @LocalServerPort
    private int port;

    @Test
    void aPersonSignsInWithAFormAndANewSession() throws Exception {
        var browser = new Browser();
        var page = browser.get("/sign-in");
        assertThat(page.statusCode()).isEqualTo(200);
        var before = browser.cookie("SESSION");
        var answer = browser.signIn(email(organisations.fleet(), Role.MANAGER), TestOrganisations.PASSWORD);
        assertThat(answer.statusCode()).isEqualTo(302);
        assertThat(location(answer)).doesNotContain("sign-in");
        assertThat(browser.cookie("SESSION")).isNotNull().isNotEqualTo(before);
        assertThat(browser.get("/").statusCode()).isEqualTo(200);
    }

    @Test
    void theSessionIsForThisServiceAloneAndOutOfReachOfScripts() throws Exception {
        var browser = new Browser();
        var answer = browser.signIn(email(organisations.fleet(), Role.MANAGER), TestOrganisations.PASSWORD);
        assertThat(answer.headers().allValues("Set-Cookie"))
                .filteredOn(cookie -> cookie.startsWith("SESSION="))
                .isNotEmpty()
                .allSatisfy(cookie -> assertThat(cookie).contains("HttpOnly").containsPattern("SameSite=(Lax|Strict)"));
    }

    @Test
    void aReportByCabCodeThatComesTooSoonKeepsWhatWasTypedAndIsToldWhenToComeAgain() throws Exception {
        var own = organisations.fleet();
        var code = TestOrganisations.as(own, Role.MANAGER, () -> {
            var depot = depots.create(TestBusiness.depot("North yard"));
            return cabCodes.make(fleet.create(TestBusiness.vehicle(depot.id(), "QV23 KTB"))
                            .id())
                    .code();
        });
        var browser = new Browser();
        var token = CSRF.matcher(browser.get("/sign-in").body());
        assertThat(token.find()).isTrue();
        var form = Map.of("xMm", "-200", "note", "a \"stone\" on the A3", "_csrf", token.group(1));
        var last = browser.post("/r/" + code, form);
        // More than sixty, for one comes back every ten seconds while these are sent.
        for (int report = 1; report < 120 && last.statusCode() != 429; report++) {
            last = browser.post("/r/" + code, form);
        }
        assertThat(last.statusCode()).isEqualTo(429);
        // Sixty in ten minutes: the next one after ten seconds.
        assertThat(Integer.parseInt(last.headers().firstValue("Retry-After").orElseThrow()))
                .isBetween(1, 10);
        assertThat(last.body())
                .contains(
                        "Try again in 1 min. What you filled in is kept on this page",
                        "action=\"/r/" + code + "\"",
                        "name=\"xMm\" value=\"-200\"",
                        "name=\"note\" value=\"a &quot;stone&quot; on the A3\"")
                .containsOnlyOnce("name=\"_csrf\"");
    }

    @Test
    void noPasswordStandsInThePageThatSaysToComeLater() throws Exception {
        var email = email(organisations.fleet(), Role.MANAGER);
        var browser = new Browser();
        var form = Map.of("email", email, "present", "a wrong but long one", "next", "another that is long");
        var last = browser.postWithToken("/first-password", form);
        for (int attempt = 1; attempt < 6 && last.statusCode() != 429; attempt++) {
            last = browser.postWithToken("/first-password", form);
        }
        assertThat(last.statusCode()).isEqualTo(429);
        assertThat(last.body())
                .contains("Try again in 15 min.")
                .doesNotContain("a wrong but long one", "another that is long", "kept on this page");
    }

    @Test
    void unknownEMailsAndWrongPasswordsAreAnsweredAlike() throws Exception {
        var wrong = new Browser().signIn(email(organisations.fleet(), Role.MANAGER), "a wrong but long one");
        var unknown = new Browser().signIn("nobody-" + UUID.randomUUID() + "@test.invalid", "a wrong but long one");
        assertThat(wrong.statusCode()).isEqualTo(unknown.statusCode()).isEqualTo(302);
        assertThat(location(wrong)).isEqualTo(location(unknown)).endsWith("/sign-in?failed");
    }

    @Test
    void afterFiveFailuresTheRightPasswordDoesNotHelpEither() throws Exception {
        var email = email(organisations.fleet(), Role.MANAGER);
        for (int i = 0; i < 5; i++) {
            assertThat(location(new Browser().signIn(email, "a wrong but long one")))
                    .endsWith("?failed");
        }
        assertThat(location(new Browser().signIn(email, TestOrganisations.PASSWORD)))
                .endsWith("?locked");
        var basic = basic("/api/v1/tokens", "POST", email, TestOrganisations.PASSWORD);
        assertThat(basic.statusCode()).isEqualTo(429);
        assertThat(basic.headers().firstValue("Retry-After")).isPresent();
        // Others of the same address still get in.
        assertThat(location(
                        new Browser().signIn(email(organisations.fleet(), Role.MANAGER), TestOrganisations.PASSWORD)))
                .doesNotContain("sign-in");
        jdbc.sql("delete from sign_in_attempt").update();
    }

    @Test
    void aChangeWithoutThePagesTokenIsForbidden() throws Exception {
        var browser = new Browser();
        browser.signIn(email(organisations.fleet(), Role.MANAGER), TestOrganisations.PASSWORD);
        assertThat(browser.post("/sign-out", Map.of()).statusCode()).isEqualTo(403);
        var api = browser.send(HttpRequest.newBuilder(at("/api/v1/depots"))
                .header("Content-Type", "application/json")
                .POST(HttpRequest.BodyPublishers.ofString("{}")));
        assertThat(api.statusCode()).isEqualTo(403);
        assertThat(api.body()).contains("/problems/csrf");
        assertThat(browser.get("/api/v1/depots").statusCode()).isEqualTo(200);
    }

    @Test
    void aPersonOfTwoOrganisationsSwitchesWithANewSessionAndSeesOneAtATime() throws Exception {
        var one = organisations.fleet();
        var other = organisations.fleet();
        var stranger = organisations.fleet();
        var email = email(one, Role.MANAGER);
        TestOrganisations.as(
                other,
                Role.ADMINISTRATOR,
                () -> people.add(new AddMember(email, "ignored", Set.of(Role.MANAGER), "ignored as well")));
        accept(one, other);
        var browser = new Browser();
        browser.signIn(email, TestOrganisations.PASSWORD);
        var acting = organisation(browser);
        var next = acting.equals(one.id().toString()) ? other : one;
        var before = browser.cookie("SESSION");
        var switched = browser.postWithToken(
                "/organisation/switch", Map.of("organisation", next.id().toString()));
        assertThat(switched.statusCode()).isEqualTo(302);
        assertThat(browser.cookie("SESSION")).isNotEqualTo(before);
        assertThat(organisation(browser)).isEqualTo(next.id().toString());
        var refused = browser.postWithToken(
                "/organisation/switch", Map.of("organisation", stranger.id().toString()));
        assertThat(refused.statusCode()).isBetween(400, 499);
        assertThat(organisation(browser)).isEqualTo(next.id().toString());
    }

    @Test
    void signingInLeadsBackToTheOrganisationThatWasActedForLast() throws Exception {
        var first = organisations.fleet();
        var other = organisations.fleet();
        var email = email(first, Role.MANAGER);
        TestOrganisations.as(
                other,
                Role.ADMINISTRATOR,
                () -> people.add(new AddMember(email, "Both", Set.of(Role.MANAGER), "ignored as well")));
        accept(first, other);
        for (var wanted : List.of(other, first, other)) {
            var browser = new Browser();
            browser.signIn(email, TestOrganisations.PASSWORD);
            browser.postWithToken(
                    "/organisation/switch", Map.of("organisation", wanted.id().toString()));
            var again = new Browser();
            again.signIn(email, TestOrganisations.PASSWORD);
            assertThat(organisation(again)).isEqualTo(wanted.id().toString());
        }
        var member = TestOrganisations.as(
                other,
                Role.ADMINISTRATOR,
                () -> people.member(
                        Objects.requireNonNull(first.person(Role.MANAGER).person())));
        TestOrganisations.as(other, Role.ADMINISTRATOR, () -> {
            people.remove(member.person(), member.version());
            return true;
        });
        var after = new Browser();
        after.signIn(email, TestOrganisations.PASSWORD);
        assertThat(organisation(after)).isEqualTo(first.id().toString());
    }

    @Test
    void whoIsTakenOutIsOutAtOnceWithSessionAndKeys() throws Exception {
        var fleet = organisations.fleet();
        var browser = new Browser();
        browser.signIn(email(fleet, Role.MANAGER), TestOrganisations.PASSWORD);
        assertThat(browser.get("/api/v1/depots").statusCode()).isEqualTo(200);
        assertThat(bearer("/api/v1/depots", fleet.bearer(Role.MANAGER)).statusCode())
                .isEqualTo(200);
        var person = Objects.requireNonNull(fleet.person(Role.MANAGER).person());
        var version = TestOrganisations.as(fleet, Role.ADMINISTRATOR, () -> people.member(person))
                .version();
        TestOrganisations.as(fleet, Role.ADMINISTRATOR, () -> {
            people.remove(person, version);
            return true;
        });
        assertThat(browser.get("/api/v1/depots").statusCode()).isEqualTo(401);
        assertThat(bearer("/api/v1/depots", fleet.bearer(Role.MANAGER)).statusCode())
                .isEqualTo(401);
        assertThat(location(new Browser().signIn(email(fleet, Role.MANAGER), TestOrganisations.PASSWORD)))
                .endsWith("?failed");
    }

    @Test
    void aKeyCanDoNoMoreThanItWasMadeFor() throws Exception {
        var fleet = organisations.fleet();
        var administrator = fleet.person(Role.ADMINISTRATOR).person();
        TestOrganisations.as(
                fleet,
                Role.ADMINISTRATOR,
                () -> people.changeRoles(
                        Objects.requireNonNull(administrator),
                        Set.of(Role.ADMINISTRATOR, Role.MANAGER),
                        people.member(administrator).version()));
        var email = email(fleet, Role.ADMINISTRATOR);
        var made = basicJson("/api/v1/tokens", email, "{\"name\": \"reader\", \"roles\": [\"manager\"]}");
        assertThat(made.statusCode()).isEqualTo(201);
        var secret = ApiDocument.JSON.readTree(made.body()).path("secret").asString();
        assertThat(bearer("/api/v1/vehicles", "Bearer " + secret).statusCode()).isEqualTo(200);
        assertThat(bearer("/api/v1/members", "Bearer " + secret).statusCode()).isEqualTo(403);
        // With a page's session a key is nothing, and a wrong key does not fall back to the session.
        var browser = new Browser();
        browser.signIn(email, TestOrganisations.PASSWORD);
        assertThat(browser.send(HttpRequest.newBuilder(at("/api/v1/vehicles"))
                                .header("Authorization", "Bearer ql_wrong"))
                        .statusCode())
                .isEqualTo(401);
    }

    @Test
    void revokedAndExpiredKeysAreRefused() throws Exception {
        var fleet = organisations.fleet();
        var revoked =
                TestOrganisations.as(fleet, Role.MANAGER, () -> tokens.create(new CreateToken("revoked", 1, null)));
        var expired =
                TestOrganisations.as(fleet, Role.MANAGER, () -> tokens.create(new CreateToken("expired", 1, null)));
        for (var key : new String[] {revoked.secret(), expired.secret()}) {
            assertThat(bearer("/api/v1/vehicles", "Bearer " + key).statusCode()).isEqualTo(200);
        }
        TestOrganisations.as(fleet, Role.MANAGER, () -> {
            tokens.revoke(revoked.id());
            return true;
        });
        Tenants.callAs(
                fleet.tenant(),
                () -> new TransactionTemplate(transactions)
                        .execute(status -> jdbc.sql("update token set expires_at = now() where id = :id")
                                .param("id", expired.id())
                                .update()));
        for (var key : new String[] {revoked.secret(), expired.secret(), revoked.secret() + "A", "", "ql_", "ql_%"}) {
            assertThat(bearer("/api/v1/vehicles", "Bearer " + key).statusCode())
                    .as(key)
                    .isEqualTo(401);
        }
    }

    @Test
    void aKeyMadeWithAKeyEndsWithIt() throws Exception {
        var fleet = organisations.fleet();
        var secret = Objects.requireNonNull(fleet.bearer(Role.ADMINISTRATOR));
        var made = new Browser()
                .send(HttpRequest.newBuilder(at("/api/v1/tokens"))
                        .header("Authorization", secret)
                        .header("Content-Type", "application/json")
                        .POST(HttpRequest.BodyPublishers.ofString("{\"name\": \"child\", \"expiresInDays\": 300}")));
        assertThat(made.statusCode()).isEqualTo(201);
        var child = ApiDocument.JSON.readTree(made.body());
        // The key of the tests lives a day.
        assertThat(java.time.Instant.parse(child.path("expiresAt").asString()))
                .isBefore(java.time.Instant.now().plus(java.time.Duration.ofDays(2)));
        var bearer = "Bearer " + child.path("secret").asString();
        assertThat(bearer("/api/v1/members", bearer).statusCode()).isEqualTo(200);
        var parent = Tenants.callAs(
                fleet.tenant(),
                () -> new TransactionTemplate(transactions)
                        .execute(status -> jdbc.sql("select made_with from token where name = 'child'")
                                .query(UUID.class)
                                .single()));
        TestOrganisations.as(fleet, Role.ADMINISTRATOR, () -> {
            tokens.revoke(parent);
            return true;
        });
        assertThat(bearer("/api/v1/members", bearer).statusCode()).isEqualTo(401);
    }

    @Test
    void aNewPasswordEndsOtherSessionsAndKeysMadeBefore() throws Exception {
        var fleet = organisations.fleet();
        var email = email(fleet, Role.MANAGER);
        var stays = new Browser();
        stays.signIn(email, TestOrganisations.PASSWORD);
        var ends = new Browser();
        ends.signIn(email, TestOrganisations.PASSWORD);
        assertThat(ends.get("/api/v1/depots").statusCode()).isEqualTo(200);
        var wrong = stays.postWithToken(
                "/settings/me/password", Map.of("present", "not the right one", "next", "another long enough one"));
        assertThat(wrong.statusCode()).isEqualTo(422);
        assertThat(wrong.body()).contains("not the present password");
        var changed = stays.postWithToken(
                "/settings/me/password",
                Map.of("present", TestOrganisations.PASSWORD, "next", "another long enough one"));
        assertThat(changed.statusCode()).isEqualTo(302);
        assertThat(stays.get("/api/v1/depots").statusCode()).isEqualTo(200);
        assertThat(ends.get("/api/v1/depots").statusCode()).isEqualTo(401);
        assertThat(bearer("/api/v1/depots", fleet.bearer(Role.MANAGER)).statusCode())
                .isEqualTo(401);
        assertThat(location(new Browser().signIn(email, TestOrganisations.PASSWORD)))
                .endsWith("?failed");
        assertThat(location(new Browser().signIn(email, "another long enough one")))
                .doesNotContain("sign-in");
    }

    @Test
    void aFirstPasswordOpensNothingButTheWayToAnother() throws Exception {
        var fleet = organisations.fleet();
        var email = "new-" + UUID.randomUUID() + "@test.invalid";
        var member = TestOrganisations.as(
                fleet,
                Role.ADMINISTRATOR,
                () -> people.add(new AddMember(email, "New", Set.of(Role.MANAGER), "the first password")));
        assertThat(member.invited()).isTrue();
        assertThat(member.name()).isEqualTo(email);
        var browser = new Browser();
        assertThat(location(browser.signIn(email, "the first password"))).endsWith("/first-password");
        assertThat(browser.get("/api/v1/depots").statusCode()).isEqualTo(401);
        assertThat(basic("/api/v1/tokens", "POST", email, "the first password").body())
                .contains("/problems/first-password");
        var replaced = browser.postWithToken(
                "/first-password",
                Map.of("email", email, "present", "the first password", "next", "a password of my own"));
        assertThat(location(replaced)).endsWith("/sign-in?changed");
        assertThat(location(browser.signIn(email, "a password of my own"))).doesNotContain("sign-in", "first-password");
        assertThat(browser.get("/api/v1/depots").statusCode()).isEqualTo(200);
    }

    @Test
    void whoIsKnownAlreadyIsAskedFirstAndToldOfByEMailOnly() throws Exception {
        var one = organisations.fleet();
        var other = organisations.fleet();
        var email = email(one, Role.MANAGER);
        var member = TestOrganisations.as(
                other,
                Role.ADMINISTRATOR,
                () -> people.add(new AddMember(email, "Typed", Set.of(Role.DRIVER), "ignored as well")));
        assertThat(member.invited()).isTrue();
        assertThat(member.name()).isEqualTo(email);
        var browser = new Browser();
        browser.signIn(email, TestOrganisations.PASSWORD);
        assertThat(browser.postWithToken(
                                "/organisation/switch",
                                Map.of("organisation", other.id().toString()))
                        .statusCode())
                .isEqualTo(404);
        assertThat(browser.get("/settings/me").body()).contains(other.name());
        var accepted = browser.postWithToken("/settings/me/invitations/" + other.id() + "/accept", Map.of());
        assertThat(accepted.statusCode()).isEqualTo(302);
        browser.postWithToken(
                "/organisation/switch", Map.of("organisation", other.id().toString()));
        assertThat(organisation(browser)).isEqualTo(other.id().toString());
        assertThat(TestOrganisations.as(other, Role.ADMINISTRATOR, () -> people.member(member.person()))
                        .name())
                .isEqualTo("manager");
    }

    @Test
    void requestsOfOneSessionAndWithKeysDoNotWaitForEachOther() throws Exception {
        var fleet = organisations.fleet();
        var browser = new Browser();
        browser.signIn(email(fleet, Role.MANAGER), TestOrganisations.PASSWORD);
        var token = CSRF.matcher(browser.get("/").body());
        assertThat(token.find()).isTrue();
        var begun = System.nanoTime();
        try (var threads = java.util.concurrent.Executors.newFixedThreadPool(24)) {
            var answers = new java.util.ArrayList<java.util.concurrent.Future<Integer>>();
            for (int i = 0; i < 48; i++) {
                var fields = Map.of(
                        "_csrf", token.group(1),
                        "idempotencyKey", UUID.randomUUID().toString(),
                        "email", "many-" + UUID.randomUUID() + "@test.invalid");
                // A refusal, told on the page that the form stood on: it is saved to the session inside the
                // transaction.
                answers.add(
                        threads.submit(() -> browser.post("/vehicles/" + UUID.randomUUID() + "/cab-code/revoke", fields)
                                .statusCode()));
            }
            for (var answer : answers) {
                assertThat(answer.get()).isLessThan(500);
            }
        }
        assertThat(java.time.Duration.ofNanos(System.nanoTime() - begun)).isLessThan(java.time.Duration.ofSeconds(25));
    }

    @Test
    void guessesAtOnceAreCountedLikeGuessesOneByOne() throws Exception {
        var email = email(organisations.fleet(), Role.MANAGER);
        var tried = new java.util.concurrent.atomic.AtomicInteger();
        try (var threads = java.util.concurrent.Executors.newFixedThreadPool(20)) {
            for (int i = 0; i < 20; i++) {
                threads.submit(() -> {
                    if (basic("/api/v1/tokens", "POST", email, "a wrong but long one")
                                    .statusCode()
                            == 401) {
                        tried.incrementAndGet();
                    }
                    return true;
                });
            }
        }
        assertThat(tried.get()).isEqualTo(5);
        jdbc.sql("delete from sign_in_attempt").update();
    }

    @Test
    void passwordsAreTakenForMakingAKeyOnly() throws Exception {
        var email = email(organisations.fleet(), Role.MANAGER);
        assertThat(basicJson("/api/v1/tokens", email, "{\"name\": \"laptop\"}").statusCode())
                .isEqualTo(201);
        assertThat(basic("/api/v1/tokens", "GET", email, TestOrganisations.PASSWORD)
                        .statusCode())
                .isEqualTo(401);
        assertThat(basic("/api/v1/depots", "POST", email, TestOrganisations.PASSWORD)
                        .statusCode())
                .isEqualTo(401);
        assertThat(basic("/api/v1/vehicles", "GET", email, TestOrganisations.PASSWORD)
                        .statusCode())
                .isEqualTo(401);
    }

    @Test
    void pagesAndAnswersCarryTheStrictPolicy() throws Exception {
        var browser = new Browser();
        browser.signIn(email(organisations.fleet(), Role.MANAGER), TestOrganisations.PASSWORD);
        for (var path : new String[] {"/sign-in", "/", "/api/v1/vehicles", "/api/openapi.json", "/nowhere"}) {
            var headers = browser.get(path).headers();
            assertThat(headers.firstValue("Content-Security-Policy").orElse(""))
                    .as(path)
                    .contains("default-src 'none'", "script-src 'self'", "frame-ancestors 'none'", "base-uri 'none'")
                    .doesNotContain("unsafe-inline", "unsafe-eval", "*");
            assertThat(headers.firstValue("X-Content-Type-Options")).as(path).hasValue("nosniff");
            assertThat(headers.firstValue("Referrer-Policy")).as(path).hasValue("same-origin");
            assertThat(headers.firstValue("Cross-Origin-Opener-Policy"))
                    .as(path)
                    .hasValue("same-origin");
        }
    }

    @Test
    void aPieceOfAPageAskedForWithoutASessionLeadsToTheSignIn() throws Exception {
        var piece = new Browser().send(HttpRequest.newBuilder(at("/damages")).header("HX-Request", "true"));
        assertThat(piece.statusCode()).isEqualTo(401);
        assertThat(piece.headers().firstValue("HX-Redirect")).hasValue("/sign-in");
        var page = new Browser().get("/damages");
        assertThat(page.statusCode()).isEqualTo(302);
        assertThat(location(page)).endsWith("/sign-in");
    }

    private void accept(TestOrganisation present, TestOrganisation other) {
        TestOrganisations.as(present, Role.MANAGER, () -> {
            access.accept(other.id());
            return true;
        });
    }

    private static String email(TestOrganisation organisation, Role role) {
        var mark = organisation.name().substring(organisation.name().lastIndexOf(' ') + 1);
        return role.name().toLowerCase(java.util.Locale.ROOT) + "-" + mark + "@test.invalid";
    }

    private static String organisation(Browser browser) throws IOException, InterruptedException {
        return ApiDocument.JSON
                .readTree(browser.get("/api/v1/organisation").body())
                .path("id")
                .asString();
    }

    private static String location(HttpResponse<String> answer) {
        return answer.headers().firstValue("Location").orElse("");
    }

    private URI at(String path) {
        return URI.create("http://localhost:" + port + path);
    }

    private HttpResponse<String> bearer(String path, String bearer) throws IOException, InterruptedException {
        return new Browser().send(HttpRequest.newBuilder(at(path)).header("Authorization", bearer));
    }

    private HttpResponse<String> basic(String path, String verb, String email, String password)
            throws IOException, InterruptedException {
        return new Browser()
                .send(HttpRequest.newBuilder(at(path))
                        .header("Authorization", credentials(email, password))
                        .header("Content-Type", "application/json")
                        .method(
                                verb,
                                verb.equals("GET")
                                        ? HttpRequest.BodyPublishers.noBody()
                                        : HttpRequest.BodyPublishers.ofString("{\"name\": \"x\"}")));
    }

    private HttpResponse<String> basicJson(String path, String email, String body)
            throws IOException, InterruptedException {
        return new Browser()
                .send(HttpRequest.newBuilder(at(path))
                        .header("Authorization", credentials(email, TestOrganisations.PASSWORD))
                        .header("Content-Type", "application/json")
                        .POST(HttpRequest.BodyPublishers.ofString(body)));
    }

    private static String credentials(String email, String password) {
        return "Basic " + Base64.getEncoder().encodeToString((email + ":" + password).getBytes(StandardCharsets.UTF_8));
    }

    /** Keeps cookies, follows nothing. */
    private final class Browser {
        private final CookieManager cookies = new CookieManager();
        private final HttpClient client =
                HttpClient.newBuilder().cookieHandler(cookies).build();

        HttpResponse<String> send(HttpRequest.Builder request) throws IOException, InterruptedException {
            return client.send(request.build(), HttpResponse.BodyHandlers.ofString());
        }

        HttpResponse<String> get(String path) throws IOException, InterruptedException {
            return send(HttpRequest.newBuilder(at(path)).header("Accept", "text/html, application/json;q=0.9"));
        }

        HttpResponse<String> post(String path, Map<String, String> form) throws IOException, InterruptedException {
            var body = form.entrySet().stream()
                    .map(each -> each.getKey() + "=" + URLEncoder.encode(each.getValue(), StandardCharsets.UTF_8))
                    .collect(Collectors.joining("&"));
            return send(HttpRequest.newBuilder(at(path))
                    .header("Content-Type", "application/x-www-form-urlencoded")
                    .POST(HttpRequest.BodyPublishers.ofString(body)));
        }

        /** With the token that any page of the service holds for its forms. */
        HttpResponse<String> postWithToken(String path, Map<String, String> form)
                throws IOException, InterruptedException {
            var page = get(cookie("SESSION") == null ? "/sign-in" : "/").body();
            var token = CSRF.matcher(page);
            assertThat(token.find()).as(page).isTrue();
            var fields = new java.util.HashMap<>(form);
            fields.put("_csrf", token.group(1));
            return post(path, fields);
        }

        HttpResponse<String> signIn(String email, String password) throws IOException, InterruptedException {
            return postWithToken("/sign-in", Map.of("email", email, "password", password));
        }

        @Nullable
        String cookie(String name) {
            return cookies.getCookieStore().getCookies().stream()
                    .filter(each -> each.getName().equals(name))
                    .map(HttpCookie::getValue)
                    .findFirst()
                    .orElse(null);
        }
    }
}
