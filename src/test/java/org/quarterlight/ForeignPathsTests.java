package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import java.io.UnsupportedEncodingException;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.quarterlight.ApiDocument.Operation;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

/** Every path and verb that the API describes, as everybody who has no business there. */
@QuarterlightTest
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ForeignPathsTests {
    private static final Pattern ID = Pattern.compile("[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}");

    /** What the repairer of a fleet has to do with: all else of the fleet's is foreign to it, and the other way round. */
    private static final Set<String> OF_BOTH = Set.of("jobs", "partners", "charges");

    private static final Set<String> OF_THE_REPAIRER =
            Set.of("resin-lots", "methods", "lamps", "vans", "shifts", "days", "stock-places", "warranty-rates");

    /** 404 is the rule; a role or a body may refuse before anything is looked for. */
    private static final Set<Integer> REFUSALS = Set.of(403, 404, 422);

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestBusiness business;

    @Autowired
    private TestOrganisations organisations;

    private final Map<String, Object> ids = new HashMap<>();
    private final List<TestOrganisation> strangers = new ArrayList<>();
    private List<Operation> operations = List.of();
    private ApiDocument document = new ApiDocument(ApiDocument.JSON.createObjectNode());
    private TestBusiness.Lived lived = unmade();

    @BeforeAll
    void make() {
        document = ApiDocument.of(mvc);
        operations = document.operations();
        lived = business.lived(mvc);
        ids.putAll(idsOf(lived));
        strangers.add(organisations.fleet());
        strangers.add(organisations.repairer());
        strangers.add(organisations.platform());
    }

    /** Real ids of one organisation, by the resource that a path begins with and the parameter's name. */
    private static Map<String, Object> idsOf(TestBusiness.Lived lived) {
        return Map.ofEntries(
                Map.entry("depots id", lived.depot()),
                Map.entry("vehicles id", lived.vehicle()),
                Map.entry("glass-patterns id", lived.pattern()),
                Map.entry("glass-patterns picture", lived.patternPicture()),
                Map.entry("damages id", lived.openDamage()),
                Map.entry("photos id", lived.photo()),
                Map.entry("imports id", lived.vehicleImport()),
                Map.entry("inspection-plans id", lived.inspectionPlan()),
                Map.entry("inspections id", lived.inspection()),
                Map.entry("jobs id", lived.job()),
                Map.entry("jobs phase", lived.phase()),
                Map.entry("jobs photo", lived.jobPhoto()),
                Map.entry("jobs sha256", lived.briefPhoto()),
                Map.entry("resin-lots id", lived.lot()),
                Map.entry("methods id", lived.method()),
                Map.entry("lamps id", lived.lamp()),
                Map.entry("stock-places id", lived.stockPlace()),
                Map.entry("vans id", lived.van()),
                Map.entry("vans date", lived.day()),
                Map.entry("shifts id", lived.shift()),
                Map.entry("partners id", lived.partner()),
                Map.entry("partners prices", lived.prices()),
                Map.entry("charges id", lived.charge()),
                Map.entry("tokens id", lived.token()),
                Map.entry(
                        "members id",
                        Objects.requireNonNull(lived.fleet().person(Role.DRIVER).person())),
                Map.entry("rule-sheets id", lived.ownSheet()),
                Map.entry("rule-sheets preview", lived.preview()));
    }

    private Object id(String resource, String parameter) {
        var id = ids.get(resource + " " + parameter);
        return id != null
                ? id
                : fail(
                        "The path parameter {%s} of /%s is unknown here: make such a row in TestBusiness and name its"
                                + " id in ForeignPathsTests.idsOf",
                        parameter, resource);
    }

    @Test
    void everyParameterOfEveryPathHasARealId() {
        assertThat(operations).hasSizeGreaterThan(60).allSatisfy(operation -> ApiDocument.address(operation, this::id));
    }

    @Test
    void whatIsAnotherOrganisationsIsAbsentForAll() {
        var wrong = new TreeSet<String>();
        for (var operation : operations) {
            if (!operation.path().contains("{")) {
                continue;
            }
            var absentForSomebody = false;
            for (var stranger : strangersOf(operation)) {
                for (var role : stranger.tokens().keySet()) {
                    var answer = document.send(
                            mvc, operation, ApiDocument.address(operation, this::id), stranger.bearer(role), Map.of());
                    var status = answer.getResponse().getStatus();
                    absentForSomebody |= status == 404;
                    if (!REFUSALS.contains(status)) {
                        wrong.add(
                                operation + " as " + stranger.kind() + " " + role + ": " + status + " " + text(answer));
                    }
                }
            }
            if (!absentForSomebody) {
                wrong.add(operation + ": nobody got as far as to be told that it is absent");
            }
        }
        assertThat(wrong).isEmpty();
    }

    private List<TestOrganisation> strangersOf(Operation operation) {
        var all = new ArrayList<>(strangers);
        if (OF_THE_REPAIRER.contains(operation.resource())) {
            all.add(lived.fleet());
        } else if (!OF_BOTH.contains(operation.resource())) {
            all.add(lived.repairer());
        }
        return all;
    }

    @Test
    void listsHoldNothingOfOthers() {
        var known = new TreeSet<String>();
        ids.values().forEach(id -> known.add(id.toString()));
        known.add(lived.fleet().id().toString());
        known.add(lived.repairer().id().toString());
        known.remove(lived.day().toString());
        var wrong = new TreeSet<String>();
        for (var operation : operations) {
            if (operation.verb() != HttpMethod.GET
                    || operation.path().contains("{")
                    || Set.of("organisations", "signing-keys").contains(operation.resource())) {
                continue;
            }
            for (var stranger : strangers) {
                for (var role : stranger.tokens().keySet()) {
                    var text = text(mvc.get()
                            .uri(operation.path())
                            .header("Authorization", stranger.bearer(role))
                            .exchange());
                    known.stream().filter(text::contains).forEach(id -> wrong.add(operation + " shows " + id));
                }
            }
            var own = OF_THE_REPAIRER.contains(operation.resource()) ? lived.repairer() : lived.fleet();
            var shown = own.tokens().keySet().stream()
                    .anyMatch(role -> ID.matcher(text(mvc.get()
                                    .uri(operation.path())
                                    .header("Authorization", own.bearer(role))
                                    .exchange()))
                            .find());
            if (!shown
                    && !Set.of(
                                    "/api/v1/me/invitations",
                                    "/api/v1/rule-sheets/chosen",
                                    "/api/v1/rule-sheets/cost-rates",
                                    "/api/v1/rule-sheets/disagreements",
                                    "/api/v1/rule-sheets/judging",
                                    "/api/v1/partners/waiting-prices",
                                    "/api/v1/rule-sheets/limits",
                                    "/api/v1/charges/totals",
                                    "/api/v1/warranty-rates",
                                    "/api/v1/charges/export",
                                    "/api/v1/vehicles/export")
                            .contains(operation.path())) {
                wrong.add(operation + " shows its own organisation nothing either");
            }
        }
        assertThat(wrong).isEmpty();
    }

    @Test
    void withoutAKeyNothingIsAnswered() {
        var wrong = new TreeSet<String>();
        for (var operation : operations) {
            for (var bearer : new String[] {"", "Bearer ql_nonsense"}) {
                var answer = document.send(
                        mvc,
                        operation,
                        ApiDocument.address(operation, this::id),
                        bearer.isEmpty() ? null : bearer,
                        Map.of());
                var type = String.valueOf(answer.getResponse().getContentType());
                if (answer.getResponse().getStatus() != 401 || !type.startsWith("application/problem+json")) {
                    wrong.add(operation + " with \"" + bearer + "\": "
                            + answer.getResponse().getStatus() + " " + type + " " + text(answer));
                }
            }
        }
        assertThat(wrong).isEmpty();
    }

    /**
     * Who may do what in their own organisation. M manager, D dispatcher, T technician, d driver, A administrator,
     * O operator of the platform; the first matching line counts.
     */
    private static final List<String> MATRIX = List.of(
            "GET    /api/v1/organisation                    MDTdAO",
            "PATCH  /api/v1/organisation                    A",
            "*      /api/v1/organisations                   O",
            "GET    /api/v1/me/day-kit                      T",
            "*      /api/v1/me/.*                           MDTdAO",
            "GET    /api/v1/technicians                     MDTA",
            "*      /api/v1/members.*                       A",
            "*      /api/v1/tokens.*                        MDTdAO",
            "GET    /api/v1/partners.*                      MDA",
            "*      /api/v1/partners/[{]id[}]/(limits|prices.*)  MA",
            "*      /api/v1/partners.*                      A",
            "GET    /api/v1/charges.*                       MDA",
            "POST   /api/v1/charges.*                       DA",
            "GET    /api/v1/history                         MA",
            "*      /api/v1/history/(chain|seals)           A",
            "*      /api/v1/signing-keys                    O",
            "GET    /api/v1/rule-sheets/(chosen|disagreements|judging)  MDT",
            "GET    /api/v1/rule-sheets/(cost-rates|previews.*)  M",
            "PATCH  /api/v1/rule-sheets.*                   M",
            "POST   /api/v1/rule-sheets.*                   M",
            "DELETE /api/v1/rule-sheets.*                   M",
            "GET    /api/v1/rule-sheets.*                   MDTdAO",
            "GET    /api/v1/depots.*                        MDTdA",
            "*      /api/v1/depots.*                        M",
            "GET    /api/v1/glass-patterns.*                MDTd",
            "*      /api/v1/glass-patterns.*                M",
            "GET    /api/v1/vehicles/export                 MDT",
            "GET    /api/v1/vehicles/[{]id[}]/cab-code.*    MD",
            "GET    /api/v1/vehicles/[{]id[}]/odometer-readings  MDT",
            "GET    /api/v1/vehicles/[{]id[}]/damages-over-time.*  MDT",
            "POST   /api/v1/vehicles/[{]id[}]/odometer-readings  MT",
            "GET    /api/v1/vehicles.*                      MDTd",
            "*      /api/v1/vehicles.*                      M",
            "*      /api/v1/imports.*                       M",
            "POST   /api/v1/damages/[{]id[}]/observations   MT",
            "POST   /api/v1/damages/[{]id[}]/another        MT",
            "POST   /api/v1/damages/[{]id[}]/withdraw       M",
            "*      /api/v1/damages.*                       MDTd",
            "GET    /api/v1/photos/[{]id[}]                 MDTd",
            "GET    /api/v1/inspection-plans.*              MDT",
            "*      /api/v1/inspection-plans.*              M",
            "GET    /api/v1/inspections.*                   MDT",
            "POST   /api/v1/inspections/calendar-addresses  MDT",
            "POST   /api/v1/inspections/spread              M",
            "*      /api/v1/inspections.*                   MT",
            "GET    /api/v1/resin-lots.*                    MDT",
            "POST   /api/v1/resin-lots                      DT",
            "POST   /api/v1/resin-lots/[{]id[}]/open          DT",
            "*      /api/v1/resin-lots.*                    D",
            "GET    /api/v1/stock-places.*                  MDT",
            "POST   /api/v1/stock-places/[{]id[}]/(receive|transfer|count)  DT",
            "*      /api/v1/stock-places.*                  D",
            "GET    /api/v1/warranty-rates                  MD",
            "GET    /api/v1/vans.*                          DT",
            "*      /api/v1/vans.*                          D",
            "GET    /api/v1/days                            DT",
            "GET    /api/v1/shifts.*                        DT",
            "*      /api/v1/shifts.*                        D",
            "GET    /api/v1/methods.*                       MDT",
            "*      /api/v1/methods.*                       MD",
            "GET    /api/v1/lamps.*                         MDT",
            "POST   /api/v1/lamps/[{]id[}]/readings         DT",
            "*      /api/v1/lamps.*                         D",
            "GET    /api/v1/jobs/[{]id[}]/share-choices     M",
            "GET    /api/v1/jobs.*                          MDT",
            "POST   /api/v1/jobs                            M",
            "POST   /api/v1/jobs/[{]id[}]/(approve|decline|withdraw|share|payer)  M",
            "POST   /api/v1/jobs/[{]id[}]/(assign|hand-back|contest)        D",
            "POST   /api/v1/jobs/[{]id[}]/overrides                         MD",
            "POST   /api/v1/jobs/[{]id[}]/.*                                T");

    private static final Map<Character, Role> LETTERS = Map.of(
            'M', Role.MANAGER,
            'D', Role.DISPATCHER,
            'T', Role.TECHNICIAN,
            'd', Role.DRIVER,
            'A', Role.ADMINISTRATOR,
            'O', Role.OPERATOR);

    private static Set<Role> allowed(Operation operation) {
        for (var line : MATRIX) {
            var words = line.split(" +");
            if ((words[0].equals("*") || words[0].equals(operation.verb().name()))
                    && operation.path().matches(words[1])) {
                var roles = EnumSet.noneOf(Role.class);
                words[2].chars().forEach(letter -> roles.add(Objects.requireNonNull(LETTERS.get((char) letter))));
                return roles;
            }
        }
        return fail("%s has no line in ForeignPathsTests.MATRIX: say there who may do it", operation);
    }

    @Test
    void eachRoleMayDoWhatTheMatrixSaysAndNothingElse() {
        var own = business.live(mvc);
        var platform = organisations.platform();
        var realIds = idsOf(own);
        var wrong = new TreeSet<String>();
        // First those who may not, for those who may change what is there.
        for (var permitted : List.of(false, true)) {
            for (var operation : operations) {
                for (var role : LETTERS.values()) {
                    if (allowed(operation).contains(role) != permitted) {
                        continue;
                    }
                    var organisation = role == Role.OPERATOR ? platform : ownerOf(operation, own);
                    if (!organisation.tokens().containsKey(role)) {
                        continue;
                    }
                    if (permitted
                            && (operation.verb() == HttpMethod.DELETE
                                    || operation.path().endsWith("/events"))) {
                        continue; // who may end their own access is no longer there to be asked
                    }
                    var address = ApiDocument.address(
                            operation, (resource, name) -> Objects.requireNonNull(realIds.get(resource + " " + name)));
                    var answer = document.send(
                            mvc, operation, address, organisation.bearer(role), Map.of("depot", own.depot()));
                    var status = answer.getResponse().getStatus();
                    if (permitted ? status == 401 || status == 403 || status >= 500 : status != 403) {
                        wrong.add(operation + " as " + role + ": " + status + " " + text(answer));
                    }
                }
            }
        }
        assertThat(wrong).isEmpty();
    }

    /** Whose work it is: the performer's own things and its steps of a job, else the fleet's. */
    private static TestOrganisation ownerOf(Operation operation, TestBusiness.Lived own) {
        var performed = operation.resource().equals("jobs")
                && operation.path().contains("}/")
                && Set.of(Set.of(Role.DISPATCHER), Set.of(Role.TECHNICIAN), Set.of(Role.MANAGER, Role.DISPATCHER))
                        .contains(allowed(operation));
        return performed || OF_THE_REPAIRER.contains(operation.resource()) ? own.repairer() : own.fleet();
    }

    @Test
    void rolesAreThoseOfTheKindOfOrganisation() {
        assertThat(lived.fleet().tokens().keySet())
                .containsExactlyInAnyOrder(
                        Role.DRIVER, Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN, Role.ADMINISTRATOR);
        assertThat(lived.repairer().tokens().keySet())
                .containsExactlyInAnyOrder(Role.DISPATCHER, Role.TECHNICIAN, Role.ADMINISTRATOR);
        assertThat(strangers).extracting(TestOrganisation::kind).contains(OrganisationKind.PLATFORM);
    }

    private static String text(MvcTestResult answer) {
        try {
            var text = answer.getResponse().getContentAsString();
            return answer.getResponse().getStatus() < 300 ? text : text.substring(0, Math.min(250, text.length()));
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }

    private static TestBusiness.Lived unmade() {
        var nobody = UUID.randomUUID();
        var organisation = new TestOrganisation(
                new org.quarterlight.tenancy.TenantId(nobody), OrganisationKind.FLEET, "", Map.of(), Map.of());
        return new TestBusiness.Lived(
                organisation,
                organisation,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                "",
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                java.time.LocalDate.EPOCH,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody,
                nobody);
    }
}
