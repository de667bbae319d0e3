package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.Executors;
import org.junit.jupiter.api.Test;
import org.quarterlight.damage.DamagePhotos;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.Notice;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** What a form answers when something is wrong with it: itself, with what was typed, and nothing half done. */
@QuarterlightTest
class FormTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private TestFleets fleets;

    @Autowired
    private DamagePhotos photos;

    @Autowired
    private Depots depots;

    @Autowired
    private PlatformTransactionManager transactions;

    @Test
    void aReportThatTheServiceRefusesIsShownAgainAndMayBeSentAgain() {
        var fleet = organisations.fleet();
        var vehicle = fleets.vehicle(fleet, fleets.depot(fleet, "Yard").id(), null);
        var typed = report(vehicle.id(), "2900");
        typed.put("idempotencyKey", UUID.randomUUID().toString());
        typed.put("note", "seen at the gate");

        var refused = report(fleet, typed);
        assertThat(refused).hasStatus(422);
        assertThat(text(refused)).contains("value=\"2900\"", "error-summary");

        typed.put("xMm", "-200");
        var taken = report(fleet, typed);
        assertThat(taken).hasStatus3xxRedirection();
        assertThat(location(taken)).startsWith("/damages/").endsWith("/answer");
    }

    @Test
    void aFormWithAFieldMissingIsNoSuccessAndIsNotRemembered() {
        var repairer = organisations.repairer();
        var typed = lot("L 7");
        typed.put("resin", "");
        typed.put("idempotencyKey", UUID.randomUUID().toString());
        var refused = post(repairer, Role.DISPATCHER, "/stock", typed);
        assertThat(refused).hasStatus(422);
        assertThat(text(refused)).contains("Name the material", "value=\"L 7\"");

        typed.put("resin", "Thin");
        assertThat(post(repairer, Role.DISPATCHER, "/stock", typed)).hasStatus3xxRedirection();
    }

    @Test
    void aSecondClickGetsWhatTheFirstOneMade() throws Exception {
        var fleet = organisations.fleet();
        var vehicle = fleets.vehicle(fleet, fleets.depot(fleet, "Yard").id(), null);
        var typed = report(vehicle.id(), "-200");
        typed.put("idempotencyKey", UUID.randomUUID().toString());
        var together = new CyclicBarrier(3);
        Callable<MvcTestResult> click = () -> {
            together.await();
            return report(fleet, typed);
        };
        try (var threads = Executors.newFixedThreadPool(3)) {
            var places = new TreeSet<String>();
            for (var each : threads.invokeAll(List.of(click, click, click))) {
                assertThat(each.get()).hasStatus3xxRedirection();
                places.add(location(each.get()));
            }
            assertThat(places).hasSize(1);
        }
    }

    @Test
    void aFormThatIsChangedAndSentAgainSaysThatItWasSentAndLeadsToWhatWasMade() {
        var repairer = organisations.repairer();
        var typed = lot("L 9");
        typed.put("idempotencyKey", UUID.randomUUID().toString());
        var made = location(post(repairer, Role.DISPATCHER, "/stock", typed));
        typed.put("resin", "Thick");
        var again = post(repairer, Role.DISPATCHER, "/stock", typed);
        assertThat(again).hasStatus(422);
        assertThat(again.getResponse().getContentType()).startsWith("text/html");
        assertThat(text(again))
                .contains("Sent already", "href=\"" + made + "\"", "Open what was made", "href=\"/depots?after=x\"")
                .doesNotContain("Idempotency");
    }

    @Test
    void aNumberThatIsTakenIsSaidBesideItsField() {
        var repairer = organisations.repairer();
        var typed = lot("L 8");
        typed.put("idempotencyKey", UUID.randomUUID().toString());
        assertThat(post(repairer, Role.DISPATCHER, "/stock", typed)).hasStatus3xxRedirection();
        typed.put("idempotencyKey", UUID.randomUUID().toString());
        var taken = post(repairer, Role.DISPATCHER, "/stock", typed);
        assertThat(taken).hasStatus(422);
        assertThat(text(taken)).contains("href=\"#number\"", "this lot is in stock already", "value=\"L 8\"");
    }

    @Test
    void aDepotsNameThatIsTakenIsSaidAndTheTransactionGoesOn() {
        var fleet = organisations.fleet();
        var first = fleets.depot(fleet, "North");
        var second = fleets.depot(fleet, "South");
        TestOrganisations.as(
                fleet,
                Role.MANAGER,
                () -> new TransactionTemplate(transactions).execute(status -> {
                    assertThatThrownBy(() -> depots.create(TestFleets.depotCalled("north", "GB")))
                            .isInstanceOf(Invalid.class)
                            .extracting(problem -> ((Invalid) problem).field())
                            .isEqualTo("name");
                    assertThatThrownBy(() ->
                                    depots.change(second.id(), TestFleets.depotCalled("NORTH", "GB"), second.version()))
                            .isInstanceOf(Invalid.class);
                    status.setRollbackOnly();
                    return assertThat(depots.all()).hasSize(2);
                }));
        var same = TestFleets.depotCalled("NORTH", "GB");
        assertThat(TestOrganisations.as(fleet, Role.MANAGER, () -> depots.change(first.id(), same, first.version()))
                        .name())
                .isEqualTo("NORTH");
    }

    @Test
    void aRefusalLeadsBackToThePageAndLeavesTheKeyFree() {
        var fleet = organisations.fleet();
        var depot = fleets.depot(fleet, "Yard");
        var key = UUID.randomUUID().toString();
        var path = "/depots/" + depot.id() + "/retire";

        var refused = post(fleet, Role.MANAGER, path, Map.of("version", "41", "idempotencyKey", key));
        assertThat(refused).hasStatus3xxRedirection();
        assertThat(location(refused)).isEqualTo("/depots?after=x");

        var done = post(fleet, Role.MANAGER, path, Map.of("version", "0", "idempotencyKey", key));
        assertThat(location(done)).isEqualTo("/depots");
        assertThat(notice(done).sentence()).contains("closed for good");
    }

    @Test
    void onePhotoThatCannotBeReadStopsNoReport() {
        var fleet = organisations.fleet();
        var vehicle = fleets.vehicle(fleet, fleets.depot(fleet, "Yard").id(), null);
        var typed = report(vehicle.id(), "-200");
        typed.put("idempotencyKey", UUID.randomUUID().toString());

        var taken = report(
                fleet,
                typed,
                new MockMultipartFile("photos", "close.jpg", "image/jpeg", TestBusiness.pictureBytes()),
                new MockMultipartFile("photos", "whole.heic", "image/heic", "no picture at all".getBytes()));

        assertThat(taken).hasStatus3xxRedirection();
        assertThat(notice(taken).sentence()).contains("The damage is reported.", "whole.heic: This is not a photo");
        var damage = UUID.fromString(location(taken).split("/")[2]);
        assertThat(get(fleet, location(taken))).hasStatusOk();
        assertThat(TestOrganisations.as(fleet, Role.MANAGER, () -> photos.list(damage)))
                .hasSize(1);
    }

    @Test
    void aDamageFullOfPhotosTakesAnotherObservationAllTheSame() {
        var fleet = organisations.fleet();
        var vehicle = fleets.vehicle(fleet, fleets.depot(fleet, "Yard").id(), null);
        var damage = UUID.fromString(
                location(report(fleet, report(vehicle.id(), "-200"))).split("/")[2]);
        for (int i = 0; i < 20; i++) {
            TestOrganisations.as(fleet, Role.MANAGER, () -> photos.add(damage, TestBusiness.picture()));
        }
        var typed = report(vehicle.id(), "-190");
        typed.put("idempotencyKey", UUID.randomUUID().toString());
        var observed = multipart(
                fleet,
                "/damages/" + damage + "/observe",
                typed,
                new MockMultipartFile("photos", "one.jpg", "image/jpeg", TestBusiness.pictureBytes()));
        assertThat(location(observed)).isEqualTo("/damages/" + damage);
        assertThat(notice(observed).sentence()).contains("The observation is added.", "up to 20 photos");
        assertThat(text(get(fleet, "/damages/" + damage))).contains("190");
    }

    private static Map<String, String> report(UUID vehicle, String xMm) {
        return new TreeMap<>(Map.of(
                "vehicleId",
                vehicle.toString(),
                "kind",
                "star-break",
                "xMm",
                xMm,
                "yMm",
                "420",
                "diameterMm",
                "18",
                "layers",
                "outer"));
    }

    private static Map<String, String> lot(String number) {
        return new TreeMap<>(Map.of("number", number, "resin", "Thin", "expiresOn", "2031-05-01"));
    }

    private MvcTestResult report(TestOrganisation fleet, Map<String, String> fields, MockMultipartFile... files) {
        return multipart(fleet, "/report", fields, files);
    }

    private MvcTestResult multipart(
            TestOrganisation fleet, String path, Map<String, String> fields, MockMultipartFile... files) {
        var request = mvc.post()
                .uri(path)
                .multipart()
                .with(authentication(new ActingAuthentication(fleet.person(Role.MANAGER))))
                .with(csrf());
        fields.forEach(request::param);
        for (var file : files) {
            request.file(file);
        }
        return request.exchange();
    }

    private MvcTestResult post(TestOrganisation by, Role role, String path, Map<String, String> fields) {
        var request = mvc.post()
                .uri(path)
                .with(authentication(new ActingAuthentication(by.person(role))))
                .with(csrf())
                .header("Referer", "http://localhost/depots?after=x")
                .contentType("application/x-www-form-urlencoded");
        fields.forEach(request::param);
        return request.exchange();
    }

    private MvcTestResult get(TestOrganisation by, String path) {
        return mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(by.person(Role.MANAGER))))
                .exchange();
    }

    private static String location(MvcTestResult answer) {
        return Objects.requireNonNull(answer.getResponse().getHeader("Location"), () -> text(answer));
    }

    private static Notice notice(MvcTestResult answer) {
        return (Notice) Objects.requireNonNull(
                Objects.requireNonNull(answer.getMvcResult().getFlashMap()).get("notice"));
    }

    private static String text(MvcTestResult answer) {
        try {
            return answer.getResponse().getContentAsString();
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}
