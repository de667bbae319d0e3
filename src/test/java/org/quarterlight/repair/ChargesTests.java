package org.quarterlight.repair;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executors;
import java.util.function.Supplier;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.account.Partners;
import org.quarterlight.agreement.Charge;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.agreement.SavePrices;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Money;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** What jobs cost: fixed at their end by the prices of the day, who pays, and the list to invoice from. */
@QuarterlightTest
class ChargesTests {
    private static final ChargeFilter ALL = new ChargeFilter(null, null, null, null, null);

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
    private Charges charges;

    @Autowired
    private PriceAgreements prices;

    @Autowired
    private Partners partners;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    private TestOrganisation fleet;
    private TestOrganisation repairer;
    private UUID partner;
    private UUID depot;
    private UUID vehicle;
    private UUID lot;

    @BeforeEach
    void aFleetAndItsRepairer() {
        fleet = organisations.fleet();
        repairer = organisations.repairer();
        organisations.join(fleet, repairer);
        partner = TestOrganisations.as(fleet, Role.ADMINISTRATOR, () -> partners.list(null, SliceRequest.first()))
                .items()
                .getFirst()
                .id();
        depot = fleets.depot(fleet, "Yard").id();
        vehicle = fleets.vehicle(fleet, depot, null).id();
        lot = made.lot(repairer, "L-1");
    }

    @Test
    void aVisitIsChargedOneCallOutAndOneFirstChip() {
        agree(LocalDate.now().minusDays(30), "GBP", 4900);
        var first = closed(1);
        assertThat(total(first)).isEqualTo(new Money(7400, "GBP"));
        assertThat(total(closed(2))).isEqualTo(new Money(3800, "GBP"));

        vehicle = fleets.vehicle(fleet, depot, null).id();
        var otherVehicle = charge(closed(1));
        assertThat(otherVehicle.work()).isEqualTo(new Money(4900, "GBP"));
        assertThat(otherVehicle.callOut()).isEqualTo(new Money(0, "GBP"));

        vehicle = fleets.vehicle(fleet, fleets.depot(fleet, "Other yard").id(), null)
                .id();
        assertThat(charge(closed(1)).callOut()).isEqualTo(new Money(2500, "GBP"));

        assertThat(asRepairer(() -> charges.totals(ALL))).containsExactly(new ChargeTotal(4, new Money(23500, "GBP")));
        assertThat(asFleet(() -> charges.totals(ALL))).containsExactly(new ChargeTotal(4, new Money(23500, "GBP")));
        assertThat(asFleet(() -> jobs.job(first)).charge()).isEqualTo(charge(first));
    }

    @Test
    void theChargeStaysAsItWasFixedWhateverIsAgreedLater() {
        agree(LocalDate.now().minusDays(30), "GBP", 4900);
        var first = closed(1);
        agree(LocalDate.now().plusDays(2), "GBP", 9900);
        assertThat(total(first)).isEqualTo(new Money(7400, "GBP"));
        assertThat(asRepairer(() -> charges.totals(ALL))).containsExactly(new ChargeTotal(1, new Money(7400, "GBP")));
        for (var day : List.of(LocalDate.now().minusDays(2), LocalDate.now())) {
            assertThatThrownBy(() -> agree(day, "GBP", 1))
                    .as("nobody's work of today is paid differently")
                    .isInstanceOfSatisfying(
                            Invalid.class, e -> assertThat(e.field()).isEqualTo("validFrom"));
        }
        assertThatThrownBy(() -> agree(LocalDate.now().plusDays(3), "XTS", 1))
                .isInstanceOfSatisfying(
                        Invalid.class, e -> assertThat(e.field()).isEqualTo("currency"));
    }

    @Test
    void whatFailsCostsNothingAndNeitherDoesMakingItGood() {
        agree(LocalDate.now().minusDays(30), "GBP", 4900);
        var failing = made.shared(fleet, repairer, vehicle, 1).id();
        TestOrganisations.as(repairer, Role.TECHNICIAN, () -> {
            jobs.start(failing, null);
            return jobs.abandon(failing, "it ran", null);
        });
        assertThat(charge(failing).basis()).isEqualTo(Charge.Basis.FAILED);
        assertThat(total(failing)).isEqualTo(new Money(0, "GBP"));

        var done = closed(1);
        assertThat(total(done)).isEqualTo(new Money(7400, "GBP"));
        made.settle();
        var closed = asFleet(() -> jobs.job(done));
        var warranty =
                asFleet(() -> jobs.request(new RequestJob(Work.REPAIR, TestJobs.damages(closed), true, done, null)));
        made.closed(repairer, warranty.id(), lot);
        assertThat(charge(warranty.id()).basis()).isEqualTo(Charge.Basis.WARRANTY);
        assertThat(total(warranty.id())).isEqualTo(new Money(0, "GBP"));
    }

    @Test
    void whoMakesGoodWhatAnotherHasDoneIsPaid() {
        var done = closed(1);
        made.settle();
        var failed = asFleet(() -> jobs.job(done));
        var other = organisations.repairer();
        organisations.join(fleet, other);
        var warranty =
                asFleet(() -> jobs.request(new RequestJob(Work.REPAIR, TestJobs.damages(failed), true, done, null)));
        asFleet(() -> jobs.share(warranty.id(), other.id()));
        made.closed(other, warranty.id(), made.lot(other, "L-2"));
        var charge = Objects.requireNonNull(
                made.job(other, Role.DISPATCHER, warranty.id()).charge());
        assertThat(charge.basis()).isEqualTo(Charge.Basis.NOT_AGREED);
    }

    @Test
    void workWithoutAPriceIsListedAllTheSame() {
        var job = closed(1);
        assertThat(charge(job).basis()).isEqualTo(Charge.Basis.NOT_AGREED);
        assertThat(asRepairer(() -> charges.totals(ALL))).containsExactly(new ChargeTotal(1, null));
        assertThatThrownBy(() -> asRepairer(() -> charges.invoice(
                        new InvoiceCharges("7", List.of(charge(job).id())))))
                .isInstanceOfSatisfying(
                        Invalid.class, e -> assertThat(e.field()).isEqualTo("charges"));
    }

    @Test
    void whoPaysIsSaidByTheFleetAndCorrectedWithAReasonUntilItIsInvoiced() {
        agree(LocalDate.now().minusDays(30), "GBP", 4900);
        var job = made.shared(fleet, repairer, vehicle, 1).id();
        assertThatThrownBy(() -> asFleet(() -> jobs.payer(job, new SayPayer(Payer.INSURER, " ", null))))
                .isInstanceOfSatisfying(
                        Invalid.class, e -> assertThat(e.field()).isEqualTo("claimReference"));
        asFleet(() -> jobs.payer(job, new SayPayer(Payer.INSURER, "C-77", null)));
        made.closed(repairer, job, lot);
        assertThat(charge(job).payer()).isEqualTo(Payer.INSURER);
        assertThat(charge(job).claimReference()).isEqualTo("C-77");
        assertThatThrownBy(() -> asFleet(() -> jobs.payer(job, new SayPayer(Payer.FLEET, null, null))))
                .isInstanceOfSatisfying(
                        Invalid.class, e -> assertThat(e.field()).isEqualTo("reason"));
        asFleet(() -> jobs.payer(job, new SayPayer(Payer.FLEET, "C-77", "excess not reached")));
        assertThat(charge(job).payer()).isEqualTo(Payer.FLEET);
        assertThat(charge(job).claimReference()).isNull();

        var id = charge(job).id();
        var invoiced = asRepairer(() -> charges.invoice(new InvoiceCharges("2026-7", List.of(id))));
        assertThat(invoiced)
                .singleElement()
                .extracting(ChargeView::invoiceNumber)
                .isEqualTo("2026-7");
        assertThatThrownBy(() -> asRepairer(() -> charges.invoice(new InvoiceCharges("2026-8", List.of(id)))))
                .isInstanceOf(ChargeRefused.class)
                .hasMessageContaining("2026-7");
        assertThatThrownBy(() -> asFleet(() -> jobs.payer(job, new SayPayer(Payer.FLEET, null, "again"))))
                .isInstanceOf(ChargeRefused.class);
        assertThat(asRepairer(() -> charges.list(new ChargeFilter(null, null, null, null, false), SliceRequest.first()))
                        .items())
                .isEmpty();
        assertThat(asRepairer(() -> charges.list(
                                new ChargeFilter(fleet.id(), LocalDate.now().minusDays(1), null, Payer.FLEET, true),
                                SliceRequest.first()))
                        .items())
                .hasSize(1);
    }

    @Test
    void ofTwoWhoInvoiceTheSameOnlyOneDoes() throws Exception {
        agree(LocalDate.now().minusDays(30), "GBP", 4900);
        var id = charge(closed(1)).id();
        try (var both = Executors.newFixedThreadPool(2)) {
            Callable<Boolean> mark = () -> {
                try {
                    asRepairer(() ->
                            charges.invoice(new InvoiceCharges(UUID.randomUUID().toString(), List.of(id))));
                    return true;
                } catch (ChargeRefused e) {
                    return false;
                }
            };
            var marked = both.invokeAll(List.of(mark, mark)).stream()
                    .map(each -> {
                        try {
                            return each.get();
                        } catch (InterruptedException | ExecutionException e) {
                            throw new IllegalStateException(e);
                        }
                    })
                    .toList();
            assertThat(marked).containsExactlyInAnyOrder(true, false);
        }
    }

    @Test
    void theListIsPagedByCursorAndGoesOutAsCsvWithoutFormulas() throws Exception {
        agree(LocalDate.now().minusDays(30), "GBP", 4900);
        closed(1);
        vehicle = fleets.vehicle(fleet, depot, null).id();
        var job = made.shared(fleet, repairer, vehicle, 1).id();
        asFleet(() -> jobs.payer(job, new SayPayer(Payer.INSURER, "@SUM(A1)", null)));
        made.closed(repairer, job, lot);
        var first = asRepairer(() -> charges.list(ALL, new SliceRequest(1, null)));
        var second = asRepairer(() -> charges.list(ALL, new SliceRequest(1, first.next())));
        assertThat(first.items()).hasSize(1).doesNotContainAnyElementsOf(second.items());
        assertThat(second.next()).isNull();
        var csv = mvc.get()
                .uri("/api/v1/charges/export?payer=insurer&separator=semicolon")
                .header("Authorization", repairer.bearer(Role.DISPATCHER))
                .exchange();
        var text = csv.getResponse().getContentAsString(StandardCharsets.UTF_8);
        assertThat(text.lines()).hasSize(2);
        assertThat(text).contains("'@SUM(A1)", ";49.00;").doesNotContain(";@SUM");
        var page = mvc.get()
                .uri("/charges?invoiced=false")
                .with(
                        org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors
                                .authentication(new org.quarterlight.web.ActingAuthentication(
                                repairer.person(Role.DISPATCHER))))
                .exchange();
        assertThat(page).hasStatusOk().bodyText().contains("Mark as invoiced", "@SUM(A1)", "49.00 GBP");
    }

    @Test
    void theFleetChangesNoChargeNotEvenInTheDatabase() {
        var job = closed(1);
        var touched = Tenants.callAs(
                fleet.tenant(),
                () -> new TransactionTemplate(transactions)
                        .execute(status -> jdbc.sql("update charge set invoice_number = 'x', invoiced_at = now()"
                                        + " where tenant_id = :fleet")
                                .param("fleet", fleet.id())
                                .update()));
        assertThat(touched).isZero();
        assertThatThrownBy(() -> Tenants.callAs(
                        repairer.tenant(),
                        () -> new TransactionTemplate(transactions)
                                .execute(status -> jdbc.sql("update charge set work_minor = 1 where job_id = :job")
                                        .param("job", job)
                                        .update())))
                .hasStackTraceContaining("permission denied");
    }

    private void agree(LocalDate from, String currency, long repairMinor) {
        asFleet(() -> prices.agree(partner, new SavePrices(from, currency, repairMinor, 1900L, 2500L, null)));
    }

    private UUID closed(int chips) {
        var job = made.shared(fleet, repairer, vehicle, chips).id();
        made.closed(repairer, job, lot);
        return job;
    }

    private ChargeView charge(UUID job) {
        return Objects.requireNonNull(made.job(repairer, Role.DISPATCHER, job).charge());
    }

    private Money total(UUID job) {
        return Objects.requireNonNull(charge(job).total());
    }

    private <T> T asFleet(Supplier<T> work) {
        return TestOrganisations.as(fleet, Role.MANAGER, work);
    }

    private <T> T asRepairer(Supplier<T> work) {
        return TestOrganisations.as(repairer, Role.DISPATCHER, work);
    }
}
