package org.quarterlight.repair;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.quarterlight.TestCsrf.csrf;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executors;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
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
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** What jobs cost: fixed at their end by the prices of the day, who pays, and the list to invoice from. */
@QuarterlightTest
class ChargesTests {
    /** Before the work that tests tell of began. */
    private static final Instant EARLIER = Instant.now().minus(Duration.ofHours(2));

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
                asFleet(() -> jobs.request(new RequestJob(Work.REPAIR, TestJobs.damages(closed), true, done, EARLIER)));
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
                asFleet(() -> jobs.request(new RequestJob(Work.REPAIR, TestJobs.damages(failed), true, done, EARLIER)));
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
                .with(SecurityMockMvcRequestPostProcessors.authentication(
                        new ActingAuthentication(repairer.person(Role.DISPATCHER))))
                .exchange();
        assertThat(page).hasStatusOk().bodyText().contains("Mark as invoiced", "@SUM(A1)", "49.00 GBP");
    }

    @Test
    void theFleetChangesNoChargeNotEvenInTheDatabase() {
        agree(LocalDate.now().minusDays(30), "GBP", 4900);
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
                .hasStackTraceContaining("has its price and keeps it");
    }

    @Test
    void whatHadNoPriceIsPricedOnceByPricesAcceptedLaterThatReachBack() {
        var job = closed(2);
        var id = charge(job).id();
        var from = LocalDate.now().minusDays(30);
        var proposed =
                asRepairer(() -> prices.propose(partner, new SavePrices(from, "GBP", 4900L, 1900L, 2500L, null, null)));
        assertThatThrownBy(() -> asRepairer(() -> charges.price(id)))
                .as("a proposal alone prices nothing")
                .isInstanceOfSatisfying(
                        Invalid.class, e -> assertThat(e.field()).isEqualTo("charge"));
        asFleet(() -> prices.accept(partner, proposed.id()));
        assertThatThrownBy(() -> asFleet(() -> charges.price(id))).isInstanceOf(AccessDeniedException.class);
        assertThatThrownBy(
                        () -> TestOrganisations.as(organisations.repairer(), Role.DISPATCHER, () -> charges.price(id)))
                .isInstanceOf(ChargeNotFound.class);
        var page = mvc.post()
                .uri("/charges/" + id + "/price")
                .with(SecurityMockMvcRequestPostProcessors.authentication(
                        new ActingAuthentication(repairer.person(Role.DISPATCHER))))
                .with(csrf())
                .exchange();
        assertThat(page).hasStatus3xxRedirection();
        assertThat(charge(job).basis()).isEqualTo(Charge.Basis.AGREED);
        assertThat(charge(job).chips()).isEqualTo(2);
        assertThat(total(job)).isEqualTo(new Money(4900 + 1900 + 2500, "GBP"));
        assertThatThrownBy(() -> asRepairer(() -> charges.price(id))).isInstanceOf(ChargeRefused.class);
    }

    @Test
    void aWrongNumberIsCorrectedForAllThatIsOnItAndBothReadWhatItWas() {
        agree(LocalDate.now().minusDays(30), "GBP", 4900);
        var job = closed(1);
        var both = List.of(charge(job).id(), charge(closed(1)).id());
        asRepairer(() -> charges.invoice(new InvoiceCharges("2026-7", both)));
        assertThatThrownBy(() -> asFleet(() -> charges.changeInvoice(new ChangeInvoice("2026-7", "2026-8", "no"))))
                .isInstanceOf(AccessDeniedException.class);
        for (var wrong : List.of(
                new ChangeInvoice("2026-7", "2026-7", "the same"),
                new ChangeInvoice("2026-6", "2026-8", "none of ours"),
                new ChangeInvoice("2026-7", "2026-8", " "))) {
            assertThatThrownBy(() -> asRepairer(() -> charges.changeInvoice(wrong)))
                    .isInstanceOf(RuntimeException.class);
        }
        var page = post("/charges/" + both.getFirst() + "/invoice/correct", "2026-7", "");
        assertThat(page).hasStatus(422).bodyText().contains("id=\"newNumber-error\"", "value=\"typed wrongly\"");
        assertThat(post("/charges/" + both.getFirst() + "/invoice/correct", "2026-7", "2026-8"))
                .hasStatus3xxRedirection();
        assertThat(post("/charges/" + both.getFirst() + "/invoice/correct", "2026-7", "2026-9"))
                .as("from a second tab")
                .hasStatus(422)
                .bodyText()
                .contains("No charge of yours is on invoice 2026-7 any more", "Invoice 2026-8");

        for (var side : List.of(fleet, repairer)) {
            var invoice = TestOrganisations.as(side, Role.ADMINISTRATOR, () -> charges.invoiceOf(both.getFirst()));
            assertThat(invoice.number()).isEqualTo("2026-8");
            assertThat(invoice.charges()).hasSize(2).allSatisfy(each -> {
                assertThat(each.formerInvoice()).isEqualTo("2026-7");
                assertThat(each.invoiceReason()).isEqualTo("typed wrongly");
            });
            assertThat(invoice.changes()).singleElement().satisfies(change -> {
                assertThat(change.oldNumber()).isEqualTo("2026-7");
                assertThat(change.newNumber()).isEqualTo("2026-8");
                assertThat(change.charges()).isEqualTo(2);
            });
            var as = new ActingAuthentication(side.person(Role.ADMINISTRATOR));
            for (var path : List.of("/charges/" + both.getFirst() + "/invoice", "/charges/corrections", "/charges")) {
                assertThat(mvc.get()
                                .uri(path)
                                .with(SecurityMockMvcRequestPostProcessors.authentication(as))
                                .exchange())
                        .as("%s as %s", path, side.kind())
                        .hasStatusOk()
                        .bodyText()
                        .contains("2026-7", "2026-8");
            }
        }
        var text = mvc.get()
                .uri("/api/v1/charges/export")
                .header("Authorization", repairer.bearer(Role.DISPATCHER))
                .exchange();
        assertThat(text).bodyText().contains("2026-8").doesNotContain("2026-7");

        assertThat(post("/charges/" + both.getFirst() + "/invoice/release", "2026-8", null))
                .hasStatus3xxRedirection();
        assertThat(charge(job).invoiceNumber()).isNull();
        assertThat(charge(job).formerInvoice()).isEqualTo("2026-8");
        asFleet(() -> jobs.payer(job, new SayPayer(Payer.INSURER, "C-7", "the insurer pays after all")));
        asRepairer(() ->
                charges.invoice(new InvoiceCharges("2026-9", List.of(charge(job).id()))));
        assertThatThrownBy(() -> asRepairer(() -> {
                    charges.invoice(new InvoiceCharges("2026-10", List.of(both.getLast())));
                    return charges.changeInvoice(new ChangeInvoice("2026-10", "2026-9", "one invoice for both"));
                }))
                .as("the other one has another payer")
                .isInstanceOfSatisfying(
                        Invalid.class, e -> assertThat(e.field()).isEqualTo("newNumber"));
        assertThat(asFleet(() -> charges.invoiceChanges(SliceRequest.first())).items())
                .hasSize(2);
    }

    /** The months are what was agreed for the test, no trade fact. */
    @Test
    void aClaimAfterTheWarrantyHasEndedIsCountedAndChargedAsAgreed() {
        var old = closed(1);
        made.settle();
        // A warranty that ended three days ago, written by the one change of a charge that the database allows.
        Tenants.callAs(
                repairer.tenant(),
                () -> new TransactionTemplate(transactions)
                        .execute(status -> jdbc.sql("""
                            update charge set basis = 'AGREED', work_minor = 4900, call_out_minor = 2500, chips = 1,
                                currency = 'GBP', warranty_months = 1, warranty_until = current_date - 3
                            where performer_id = :repairer and job_id = :job\
                            """)
                                .param("repairer", repairer.id())
                                .param("job", old)
                                .update()));
        agree(LocalDate.now().minusDays(120), "GBP", 4900, 1);
        var until = LocalDate.now().minusDays(3);
        var late = claimed(old);
        assertThat(asFleet(() -> jobs.job(late)).warrantyEnded()).isEqualTo(until);
        assertThat(asFleet(() -> jobs.job(old)).cameBackAt()).isNotNull();
        assertThat(mvc.get()
                        .uri("/jobs/" + late)
                        .with(SecurityMockMvcRequestPostProcessors.authentication(
                                new ActingAuthentication(fleet.person(Role.MANAGER))))
                        .exchange())
                .hasStatusOk()
                .bodyText()
                .contains("warranty ended " + until.getDayOfMonth() + " ", "charged as agreed");
        made.closed(repairer, late, lot);
        assertThat(charge(late).basis()).isEqualTo(Charge.Basis.AGREED);
        assertThat(total(late)).isEqualTo(new Money(1900, "GBP"));
        assertThat(charge(late).warrantyUntil())
                .isEqualTo(charge(late).visitedOn().plusMonths(1));

        // Within it, the work is free and has what is left of the first warranty.
        made.settle();
        var inTime = claimed(late);
        assertThat(asFleet(() -> jobs.job(inTime)).warrantyEnded()).isNull();
        made.closed(repairer, inTime, lot);
        assertThat(charge(inTime).basis()).isEqualTo(Charge.Basis.WARRANTY);
        assertThat(charge(inTime).warrantyUntil()).isEqualTo(charge(late).warrantyUntil());
    }

    private UUID claimed(UUID failed) {
        var closed = asFleet(() -> jobs.job(failed));
        return asFleet(() -> jobs.request(new RequestJob(Work.REPAIR, TestJobs.damages(closed), true, failed, EARLIER)))
                .id();
    }

    private MvcTestResult post(String path, String number, @Nullable String newNumber) {
        var request = mvc.post()
                .uri(path)
                .param("number", number)
                .param("reason", "typed wrongly")
                .with(SecurityMockMvcRequestPostProcessors.authentication(
                        new ActingAuthentication(repairer.person(Role.DISPATCHER))))
                .with(csrf());
        return (newNumber == null ? request : request.param("newNumber", newNumber)).exchange();
    }

    private void agree(LocalDate from, String currency, long repairMinor) {
        agree(from, currency, repairMinor, null);
    }

    private void agree(LocalDate from, String currency, long repairMinor, @Nullable Integer warrantyMonths) {
        var proposed = asFleet(() -> prices.propose(
                partner, new SavePrices(from, currency, repairMinor, 1900L, 2500L, null, warrantyMonths)));
        asRepairer(() -> prices.accept(partner, proposed.id()));
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
