package org.quarterlight.repair;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.UUID;
import java.util.function.Supplier;
import org.awaitility.Awaitility;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.account.Partners;
import org.quarterlight.agreement.PartnerLimits;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.agreement.SaveLimits;
import org.quarterlight.agreement.SavePrices;
import org.quarterlight.dispatch.Dispatching;
import org.quarterlight.dispatch.PlanStop;
import org.quarterlight.dispatch.SaveVan;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** A fleet invites, limits and withdraws; what was closed stays in both records. */
@QuarterlightTest
class PartnerLimitsTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private TestFleets fleets;

    @Autowired
    private TestJobs made;

    @Autowired
    private RepairJobs jobs;

    @Autowired
    private Partners partners;

    @Autowired
    private PartnerLimits limits;

    @Autowired
    private PriceAgreements prices;

    @Autowired
    private Dispatching dispatching;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    private TestOrganisation fleet;
    private TestOrganisation repairer;
    private UUID partner;
    private UUID depot;
    private UUID vehicle;

    @BeforeEach
    void aFleetAndItsRepairer() {
        fleet = organisations.fleet();
        repairer = organisations.repairer();
        organisations.join(fleet, repairer);
        partner = asManager(() -> partners.list(null, SliceRequest.first()))
                .items()
                .getFirst()
                .id();
        depot = fleets.depot(fleet, "Yard").id();
        vehicle = fleets.vehicle(fleet, depot, null).id();
    }

    @Test
    void aJobOutsideTheLimitsIsNotShared() {
        var job = made.approved(fleet, vehicle, 1).id();
        var other = fleets.depot(fleet, "Other yard").id();
        limit(new SaveLimits(List.of(other), null, null, null));
        refused(job, "none of the depots");
        limit(new SaveLimits(List.of(other, depot), LocalDate.now().plusDays(2), null, null));
        refused(job, "works for you from");
        limit(new SaveLimits(null, null, LocalDate.now().minusDays(2), null));
        refused(job, "worked for you until");
        limit(new SaveLimits(null, null, null, true));
        refused(job, "agreed prices only");

        var page = mvc.post()
                .uri("/jobs/" + job + "/share")
                .param("partner", partner.toString())
                .with(authentication(new ActingAuthentication(fleet.person(Role.MANAGER))))
                .with(csrf())
                .exchange();
        assertThat(page).hasStatus(422).bodyText().contains("id=\"partner-error\"", "agreed prices only");

        assertThat(asManager(() -> jobs.choices(job)))
                .singleElement()
                .extracting(ShareChoice::against)
                .asString()
                .contains("agreed prices only");
        assertThat(page).bodyText().contains("not for this job");
        var choices = mvc.get()
                .uri("/api/v1/jobs/" + job + "/share-choices")
                .header("Authorization", fleet.bearer(Role.MANAGER))
                .exchange();
        assertThat(choices).hasStatusOk();
        assertThat(choices).bodyJson().extractingPath("$.items[0].partner").isEqualTo(partner.toString());
        assertThat(choices)
                .bodyJson()
                .extractingPath("$.items[0].against")
                .asString()
                .contains("agreed prices only");

        var proposed = asManager(() -> prices.propose(
                partner, new SavePrices(LocalDate.now().minusDays(3), "GBP", 4900L, 1900L, 2500L, null, null)));
        refused(job, "agreed prices only");
        TestOrganisations.as(repairer, Role.DISPATCHER, () -> prices.accept(partner, proposed.id()));
        assertThat(asManager(() -> jobs.choices(job)))
                .singleElement()
                .extracting(ShareChoice::against)
                .isNull();
        assertThat(asManager(() -> jobs.share(job, partner)).performer()).isEqualTo(repairer.id());
    }

    @Test
    void limitsAreTheFleetsToSetAndBothSeeThem() {
        limit(new SaveLimits(List.of(depot), null, null, null));
        assertThat(TestOrganisations.as(repairer, Role.DISPATCHER, () -> limits.limits(partner))
                        .depots())
                .containsExactly(depot);
        assertThatThrownBy(() -> TestOrganisations.as(
                        repairer,
                        Role.ADMINISTRATOR,
                        () -> limits.change(partner, new SaveLimits(null, null, null, null), 1)))
                .isInstanceOf(Invalid.class);
        assertThatThrownBy(() -> TestOrganisations.as(
                        fleet,
                        Role.DISPATCHER,
                        () -> limits.change(partner, new SaveLimits(null, null, null, null), 1)))
                .isInstanceOf(AccessDeniedException.class);
        assertThatThrownBy(() -> asManager(() -> limits.change(partner, new SaveLimits(null, null, null, null), 0)))
                .isInstanceOf(Stale.class);
        assertThatThrownBy(() -> limit(new SaveLimits(List.of(UUID.randomUUID()), null, null, null)))
                .isInstanceOfSatisfying(
                        Invalid.class, e -> assertThat(e.field()).isEqualTo("depots"));
        // Past the service too.
        var touched = Tenants.callAs(
                repairer.tenant(),
                () -> new TransactionTemplate(transactions)
                        .execute(status -> jdbc.sql(
                                        "update partner_limit set depots = null where performer_id = :repairer")
                                .param("repairer", repairer.id())
                                .update()));
        assertThat(touched).isZero();
        var page = mvc.get()
                .uri("/partners/" + partner)
                .with(authentication(new ActingAuthentication(fleet.person(Role.MANAGER))))
                .exchange();
        assertThat(page).hasStatusOk().bodyText().contains("Only while agreed prices", "checked");
        // From a second tab: what was typed stays, and beside it stands what holds.
        var stale = mvc.post()
                .uri("/partners/" + partner + "/limits")
                .param("version", "0")
                .param("worksUntil", "2027-03-03")
                .with(authentication(new ActingAuthentication(fleet.person(Role.MANAGER))))
                .with(csrf())
                .exchange();
        assertThat(stale)
                .hasStatus(409)
                .bodyText()
                .contains("value=\"2027-03-03\"", "changed by somebody else", "<span>Yard </span>");
    }

    @Test
    void whenAPartnershipEndsOpenJobsComeBackAndClosedOnesStayWithBoth() {
        var lot = made.lot(repairer, "L-1");
        var closed = made.shared(fleet, repairer, vehicle, 1).id();
        made.closed(repairer, closed, lot);
        var underWay = made.shared(fleet, repairer, vehicle, 1).id();
        TestOrganisations.as(repairer, Role.TECHNICIAN, () -> jobs.start(underWay, null));
        var waiting = made.shared(fleet, repairer, vehicle, 1).id();
        var planned = made.shared(fleet, repairer, vehicle, 1).id();
        var day = LocalDate.now().plusDays(1);
        var van = TestOrganisations.as(repairer, Role.DISPATCHER, () -> {
            var saved = dispatching.create(new SaveVan(
                    "Van",
                    "Base",
                    new BigDecimal("51.5"),
                    new BigDecimal("-0.1"),
                    "Europe/London",
                    null,
                    LocalTime.of(7, 0),
                    LocalTime.of(18, 0)));
            dispatching.replace(
                    saved.id(),
                    day,
                    List.of(new PlanStop(planned, 60)),
                    dispatching.day(saved.id(), day).version());
            return saved.id();
        });

        TestOrganisations.as(fleet, Role.ADMINISTRATOR, () -> partners.withdraw(partner));

        Awaitility.await()
                .untilAsserted(() -> assertThat(List.of(waiting, planned))
                        .allSatisfy(
                                id -> assertThat(asManager(() -> jobs.job(id)).performer())
                                        .isEqualTo(fleet.id())));
        for (var id : List.of(waiting, planned)) {
            assertThat(asManager(() -> jobs.job(id)).state()).isEqualTo(JobState.APPROVED);
            assertThat(visible(id)).isFalse();
        }
        assertThat(TestOrganisations.as(repairer, Role.DISPATCHER, () -> dispatching.day(van, day))
                        .stops())
                .isEmpty();
        for (var id : List.of(closed, underWay)) {
            assertThat(visible(id)).isTrue();
            assertThat(made.job(repairer, Role.DISPATCHER, id).id()).isEqualTo(id);
            assertThat(made.job(fleet, Role.MANAGER, id).id()).isEqualTo(id);
        }
        refused(waiting, "does not work for you");
    }

    /** As the database shows it to the repairer. */
    private boolean visible(UUID job) {
        return Boolean.TRUE.equals(Tenants.callAs(
                repairer.tenant(),
                () -> new TransactionTemplate(transactions)
                        .execute(status -> jdbc.sql("select exists (select from job where id = :id)")
                                .param("id", job)
                                .query(Boolean.class)
                                .single())));
    }

    private void limit(SaveLimits wanted) {
        asManager(() -> limits.change(partner, wanted, limits.limits(partner).version()));
    }

    private void refused(UUID job, String words) {
        assertThatThrownBy(() -> asManager(() -> jobs.share(job, partner)))
                .isInstanceOfSatisfying(
                        Invalid.class, e -> assertThat(e.field()).isEqualTo("partner"))
                .hasMessageContaining(words);
    }

    private <T extends @Nullable Object> T asManager(Supplier<T> work) {
        return TestOrganisations.as(fleet, Role.MANAGER, work);
    }
}
