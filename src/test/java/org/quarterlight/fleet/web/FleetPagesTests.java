package org.quarterlight.fleet.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Objects;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.fleet.DepotView;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.fleet.VehicleFilter;
import org.quarterlight.fleet.VehicleView;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.util.LinkedMultiValueMap;
import org.springframework.util.MultiValueMap;

@QuarterlightTest
class FleetPagesTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private TestFleets fleets;

    @Autowired
    private Fleet fleet;

    @Autowired
    private Depots depots;

    @Autowired
    private GlassPatterns patterns;

    private TestOrganisation organisation;
    private DepotView depot;

    @BeforeEach
    void makeAFleet() {
        organisation = organisations.fleet();
        depot = fleets.depot(organisation, "Millbeck Yard");
    }

    @Test
    void listsVehiclesAndOffersChangesToManagersOnly() {
        fleets.vehicle(organisation, depot.id(), "QV23 KTB");
        fleets.vehicle(organisation, depot.id(), "XH 1");

        var manager = get("/vehicles", Role.MANAGER);
        assertThat(manager).hasStatusOk();
        assertThat(text(manager)).contains("QV23 KTB", "XH 1", "2 vehicles", "Import a list", "glass-drawing mini");
        var driver = text(get("/vehicles?search=qv23", Role.DRIVER));
        assertThat(driver).contains("QV23 KTB").doesNotContain("XH 1", "Import a list", "Export");
        assertThat(text(get("/vehicles?damaged=true&depot=&category=&search=", Role.MANAGER)))
                .contains("0 vehicles", "No vehicle here");
    }

    @Test
    void showsFormsToManagersOnly() {
        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        for (var path :
                new String[] {"/vehicles/new", "/vehicles/" + vehicle.id() + "/edit", "/vehicles/import", "/depots/new"
                }) {
            assertThat(get(path, Role.MANAGER)).as(path).hasStatusOk();
            assertThat(get(path, Role.DRIVER)).as(path).hasStatus(403);
        }
    }

    @Test
    void hidesVehiclesOfOtherFleets() {
        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        organisation = organisations.fleet();

        assertThat(get("/vehicles/" + vehicle.id(), Role.MANAGER)).hasStatus(404);
        assertThat(get("/vehicles/" + vehicle.id() + "/edit", Role.MANAGER)).hasStatus(404);
        assertThat(get("/depots/" + depot.id(), Role.MANAGER)).hasStatus(404);
    }

    @Test
    void addsAVehicleOnceHoweverOftenTheFormIsSent() {
        var typed = vehicle("QV 77");
        typed.add("idempotencyKey", "one and the same");

        var first = post("/vehicles", typed);
        var second = post("/vehicles", typed);

        assertThat(first).hasStatus3xxRedirection();
        assertThat(second.getResponse().getHeader("Location"))
                .isEqualTo(first.getResponse().getHeader("Location"));
        assertThat(all()).hasSize(1);
    }

    @Test
    void keepsWhatWasTypedAndSaysWhatIsWrong() {
        fleets.vehicle(organisation, depot.id(), "QV 77");
        var typed = vehicle("qv77");
        typed.add("notes", "spare mirror");
        typed.add("idempotencyKey", "another");

        var taken = post("/vehicles", typed);
        assertThat(taken).hasStatus(422);
        assertThat(text(taken)).contains("One thing to mend", "spare mirror", "value=\"qv77\"");

        var wrong = vehicle("QV 78");
        wrong.set("maxMassKg", "heavy");
        wrong.set("depot", "");
        assertThat(text(post("/vehicles", wrong)))
                .contains("Two things to mend", "Give a number", "Choose the depot", "value=\"heavy\"");
        wrong.set("maxMassKg", "5");
        wrong.set("depot", depot.id().toString());
        assertThat(text(post("/vehicles", wrong))).contains("Maximum mass: must be greater");
    }

    @Test
    void showsBothSidesWhereTwoChangedOneVehicleAndKeepsTheTyped() {
        var before = fleets.vehicle(organisation, depot.id(), "QV23 KTB");
        change(before, "seats renewed");
        var typed = vehicle("QV23 KTB");
        typed.set("notes", "spare mirror");
        typed.set("version", Integer.toString(before.version()));

        var conflict = post("/vehicles/" + before.id() + "/edit", typed);

        assertThat(conflict).hasStatus(409);
        assertThat(text(conflict))
                .contains("Somebody else changed this", "seats renewed", "Save mine over it")
                .containsPattern("<textarea[^>]*>spare mirror</textarea>");
        assertThat(TestOrganisations.as(organisation, Role.MANAGER, () -> fleet.read(before.id()))
                        .notes())
                .isEqualTo("seats renewed");

        var shown = TestOrganisations.as(organisation, Role.MANAGER, () -> fleet.read(before.id()));
        assertThat(text(conflict)).contains("name=\"version\" value=\"" + shown.version() + "\"");
        typed.set("version", Integer.toString(shown.version()));
        assertThat(post("/vehicles/" + before.id() + "/edit", typed)).hasStatus3xxRedirection();
        assertThat(TestOrganisations.as(organisation, Role.MANAGER, () -> fleet.read(before.id()))
                        .notes())
                .isEqualTo("spare mirror");
    }

    @Test
    void makesAndRevokesACabCode() {
        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        var page = "/vehicles/" + vehicle.id();
        assertThat(text(get(page, Role.MANAGER))).contains("Make a cab code");

        assertThat(post(page + "/cab-code", new LinkedMultiValueMap<>())).hasStatus3xxRedirection();
        assertThat(text(get(page, Role.MANAGER))).contains("cab-code.svg", "cab-code.pdf", "/r/", "Revoke");
        assertThat(text(get(page, Role.DRIVER))).doesNotContain("/r/", "cab-code.svg");

        assertThat(post(page + "/cab-code/revoke", new LinkedMultiValueMap<>())).hasStatus3xxRedirection();
        assertThat(text(get(page, Role.MANAGER))).contains("Make a cab code");
    }

    @Test
    void putsAVehicleBackOnTheRoadWithAReasonOnly() {
        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        TestOrganisations.as(organisation, Role.MANAGER, () -> {
            fleet.standDown(vehicle.id(), "The crack reaches the edge.", Instant.now());
            return true;
        });
        var page = "/vehicles/" + vehicle.id();
        assertThat(text(get(page, Role.MANAGER))).contains("must not be driven", "The crack reaches the edge.");

        assertThat(post(page + "/clear-stand-down", fields("reason", " "))).hasStatus(422);
        assertThat(post(page + "/clear-stand-down", fields("reason", "Looked at again by the workshop")))
                .hasStatus3xxRedirection();
        assertThat(text(get(page, Role.MANAGER))).doesNotContain("must not be driven");
    }

    @Test
    void notesNewGlassAndRetiresAVehicle() {
        var vehicle = fleets.vehicle(organisation, depot.id(), "QV 5");
        var page = "/vehicles/" + vehicle.id();

        var seen = Integer.toString(vehicle.version());
        var today = java.time.LocalDate.now(java.time.ZoneOffset.UTC).toString();
        // An empty form, or one without the day, replaces nothing.
        assertThat(post(page + "/windscreens", fields())).hasStatus(422);
        assertThat(post(page + "/windscreens", fields("version", seen, "fittedOn", "")))
                .hasStatus(422);
        assertThat(post(
                        page + "/windscreens",
                        fields("marking", "43R-001234", "fittedOn", today, "version", seen, "reason", "cracked")))
                .hasStatus3xxRedirection();
        assertThat(text(get(page, Role.MANAGER))).contains("43R-001234", "cracked");
        // Sent again from a page that showed the old glass.
        assertThat(post(page + "/windscreens", fields("fittedOn", today, "version", seen)))
                .hasStatus(409);
        var version = TestOrganisations.as(organisation, Role.MANAGER, () -> fleet.read(vehicle.id()))
                .version();
        assertThat(post(page + "/retire", fields("version", Integer.toString(version))))
                .hasStatus3xxRedirection();
        assertThat(text(get(page, Role.MANAGER))).contains("has left the fleet").doesNotContain("Retire it");
        assertThat(all()).isEmpty();
    }

    @Test
    void leadsFromAListOverItsPreviewToTheResult() {
        var list = """
            Plate;Class;Depot;Colour
            QV 1;M3;Millbeck Yard;blue
            QV 2;M3;Nowhere;red
            """;
        var sent = mvc.post()
                .uri("/vehicles/import")
                .with(authentication(new ActingAuthentication(organisation.person(Role.MANAGER))))
                .with(csrf())
                .multipart()
                .file(new MockMultipartFile("file", "fleet.csv", "text/csv", list.getBytes(StandardCharsets.UTF_8)))
                .param("depot", "")
                .param("category", "")
                .param("steeringSide", "")
                .exchange();
        assertThat(sent).hasStatus3xxRedirection();
        var preview = Objects.requireNonNull(sent.getResponse().getRedirectedUrl());

        assertThat(text(get(preview, Role.MANAGER)))
                .contains("What would happen", "Row 3", "“Nowhere”", "Take the good row", "rejected.csv", "not read");
        assertThat(all()).isEmpty();
        assertThat(get(preview, Role.DRIVER)).hasStatus(403);

        var taken = post(preview + "/take", fields("mode", "good-rows"));
        assertThat(taken).hasStatus3xxRedirection();
        assertThat(text(get(Objects.requireNonNull(taken.getResponse().getRedirectedUrl()), Role.MANAGER)))
                .contains("What happened", "See the vehicles");
        assertThat(all()).extracting(VehicleView::registration).containsExactly("QV 1");
    }

    @Test
    void saysWhyAListCannotBeRead() {
        var sent = mvc.post()
                .uri("/vehicles/import")
                .with(authentication(new ActingAuthentication(organisation.person(Role.MANAGER))))
                .with(csrf())
                .multipart()
                .file(new MockMultipartFile(
                        "file", "fleet.csv", "text/csv", "Depot\nMillbeck Yard\n".getBytes(StandardCharsets.UTF_8)))
                .exchange();

        assertThat(sent).hasStatus(422);
        assertThat(text(sent)).contains("none for the registration");
    }

    @Test
    void makesAndChangesDepotsWithTheirHours() {
        var typed =
                fields("name", "Sandgate North", "latitude", "52.862", "longitude", "-1.185", "zone", "Europe/London");
        typed.add("country", "gb");
        typed.add("opens[monday]", "05:00");
        typed.add("closes[monday]", "22:00");
        assertThat(post("/depots", typed)).hasStatus3xxRedirection();
        assertThat(text(get("/depots", Role.DRIVER))).contains("Sandgate North").doesNotContain("Make a depot");
        var made = TestOrganisations.as(organisation, Role.MANAGER, () -> depots.all()).stream()
                .filter(each -> each.name().equals("Sandgate North"))
                .findFirst()
                .orElseThrow();
        assertThat(made.openingHours().days()).hasSize(1);

        typed.set("closes[monday]", "04:00");
        typed.add("version", "0");
        assertThat(post("/depots/" + made.id(), typed)).hasStatus(422);
        typed.set("closes[monday]", "21:00");
        assertThat(post("/depots/" + made.id(), typed)).hasStatus3xxRedirection();
        typed.set("contact", "gate 2");
        var conflict = post("/depots/" + made.id(), typed);
        assertThat(conflict).hasStatus(409);
        assertThat(text(conflict)).contains("gate 2", "Saved by somebody else");
    }

    @Test
    void lookingAtThePatternsMakesNoneAndTheFirstDepotMakesThoseOfNobody() {
        organisation = organisations.fleet();
        assertThat(get("/glass-patterns", Role.DRIVER)).hasStatusOk();
        assertThat(TestOrganisations.as(organisation, Role.MANAGER, () -> patterns.all()))
                .isEmpty();
        fleets.depot(organisation, "First");
        fleets.depot(organisation, "Second");
        assertThat(TestOrganisations.as(organisation, Role.MANAGER, () -> patterns.all()))
                .hasSize(8)
                .allSatisfy(each -> assertThat(each.madeBy()).isEqualTo("Quarterlight"));
    }

    @Test
    void makesAnOwnPatternFromAGenericOne() {
        var generic = TestOrganisations.as(organisation, Role.MANAGER, () -> patterns.all()).stream()
                .filter(each -> each.name().startsWith("Van"))
                .findFirst()
                .orElseThrow();
        assertThat(text(get("/glass-patterns", Role.DRIVER))).contains(generic.name());
        assertThat(text(get("/glass-patterns/" + generic.id(), Role.MANAGER))).contains("Make your own from this");
        var form = text(get("/glass-patterns/new?from=" + generic.id(), Role.MANAGER));
        var typed = new LinkedMultiValueMap<String, String>();
        var input = java.util.regex.Pattern.compile("<input[^>]*name=\"([^\"]+)\"[^>]*value=\"([^\"]*)\"[^>]*>")
                .matcher(form);
        while (input.find()) {
            if (!input.group().contains("type=\"radio\"") && !input.group().contains("type=\"checkbox\"")) {
                typed.set(input.group(1), input.group(2));
            }
        }
        typed.set("steeringSide", "left");
        typed.set("name", "Own van");
        typed.set("heightMm", "9");
        assertThat(post("/glass-patterns", typed)).hasStatus(422);
        typed.set("heightMm", "812");
        typed.set("idempotencyKey", "pattern");
        assertThat(post("/glass-patterns", typed)).hasStatus3xxRedirection();

        var made = TestOrganisations.as(organisation, Role.MANAGER, () -> patterns.all()).stream()
                .filter(each -> each.name().equals("Own van"))
                .findFirst()
                .orElseThrow();
        assertThat(made.measurements().heightMm()).isEqualTo(812);
        assertThat(made.measurements().wipers())
                .isEqualTo(generic.measurements().wipers());
        assertThat(get("/glass-patterns/" + made.id() + "/edit", Role.MANAGER)).hasStatusOk();
    }

    private void change(VehicleView vehicle, String notes) {
        TestOrganisations.as(
                organisation,
                Role.MANAGER,
                () -> fleet.change(
                        vehicle.id(),
                        new SaveVehicle(
                                vehicle.depot(),
                                vehicle.registration(),
                                null,
                                vehicle.category(),
                                vehicle.maxMassKg(),
                                vehicle.steeringSide(),
                                null,
                                null,
                                notes),
                        vehicle.version()));
    }

    private java.util.List<VehicleView> all() {
        return TestOrganisations.as(
                        organisation, Role.MANAGER, () -> fleet.vehicles(VehicleFilter.none(), SliceRequest.first()))
                .items();
    }

    private MultiValueMap<String, String> vehicle(String registration) {
        return fields(
                "registration",
                registration,
                "depot",
                depot.id().toString(),
                "category",
                "M3",
                "steeringSide",
                "right");
    }

    private static MultiValueMap<String, String> fields(String... pairs) {
        var fields = new LinkedMultiValueMap<String, String>();
        for (int i = 0; i < pairs.length; i += 2) {
            fields.add(pairs[i], pairs[i + 1]);
        }
        return fields;
    }

    private MvcTestResult get(String path, Role role) {
        return mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(organisation.person(role))))
                .exchange();
    }

    private MvcTestResult post(String path, MultiValueMap<String, String> fields) {
        return mvc.post()
                .uri(path)
                .with(authentication(new ActingAuthentication(organisation.person(Role.MANAGER))))
                .with(csrf())
                .contentType(org.springframework.http.MediaType.APPLICATION_FORM_URLENCODED)
                .params(fields)
                .exchange();
    }

    private static String text(MvcTestResult result) {
        return new String(result.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
    }
}
