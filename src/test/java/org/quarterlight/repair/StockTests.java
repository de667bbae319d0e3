package org.quarterlight.repair;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import java.util.function.Supplier;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** What lies in stores and vans: the balance is the sum of its movements, whoever moves what at the same time. */
@QuarterlightTest
class StockTests {
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
    private Bench bench;

    @Autowired
    private Materials materials;

    @Autowired
    private Stock stock;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    private TestOrganisation fleet;
    private UUID store;
    private UUID van;
    private UUID lot;

    @BeforeEach
    void aStoreAndAVan() {
        fleet = organisations.fleet();
        store = place("Store", StockPlaceKind.STORE);
        van = place("Van 1", StockPlaceKind.VAN);
        lot = made.lot(fleet, "L-1");
    }

    @Test
    void whatIsReceivedTransferredAndCountedIsAllInTheLedger() {
        as(() -> stock.receive(store, new ReceiveStock(lot, ml("50"))));
        as(() -> stock.transfer(store, new TransferStock(lot, van, ml("20"))));
        assertThat(there(store)).isEqualByComparingTo("30");
        assertThat(there(van)).isEqualByComparingTo("20");
        refused("quantity", "only 20 ml of lot L-1", () -> stock.transfer(van, new TransferStock(lot, store, ml("21"))));
        refused("reason", "differs by −2 ml", () -> stock.count(van, new CountStock(lot, ml("18"), ml("20"), null)));
        refused("quantity", "Count again", () -> stock.count(van, new CountStock(lot, ml("18"), ml("25"), "spilt")));
        as(() -> stock.count(van, new CountStock(lot, ml("18"), ml("20"), "spilt")));
        assertThat(there(van)).isEqualByComparingTo("18");

        var lines = as(() -> stock.movements(van, SliceRequest.first())).items();
        assertThat(lines).extracting(StockMovement::move).containsExactly(StockMove.COUNTED, StockMove.ARRIVED);
        assertThat(lines.getFirst().reason()).isEqualTo("spilt");
        assertThat(lines.getLast().otherPlaceName()).isEqualTo("Store");
        assertThat(ledger()).isZero();
        assertThat(as(() -> stock.ofLot(lot, SliceRequest.first())).items())
                .extracting(StockBalance::placeName)
                .containsExactly("Store", "Van 1");
        assertThatThrownBy(() -> Tenants.callAs(
                        fleet.tenant(),
                        () -> new TransactionTemplate(transactions)
                                .execute(status -> jdbc.sql("update stock_movement set change = 1").update())))
                .hasStackTraceContaining("permission denied");
    }

    @Test
    void aJobTakesWhatItUsedOnceHoweverOftenItIsSaid() {
        as(() -> stock.receive(van, new ReceiveStock(lot, ml("10"))));
        as(() -> stock.receive(store, new ReceiveStock(lot, ml("10"))));
        var vehicle = fleets.vehicle(fleet, fleets.depot(fleet, "Yard").id(), null).id();
        var job = made.approved(fleet, vehicle, 1).id();
        as(() -> jobs.start(job, null));
        use(job, van, "3");
        use(job, van, "3");
        assertThat(there(van)).isEqualByComparingTo("7");
        use(job, van, "2.5");
        assertThat(there(van)).isEqualByComparingTo("7.5");
        use(job, store, "4");
        assertThat(there(van)).isEqualByComparingTo("10");
        assertThat(there(store)).isEqualByComparingTo("6");
        refused("quantity", "Count it first", () -> {
            bench.use(job, new UseLot(lot, null, null, store, ml("11")));
            return lot;
        });
        refused("place", "where it was taken", () -> {
            bench.use(job, new UseLot(lot, null, null, null, ml("1")));
            return lot;
        });
        assertThat(there(store)).isEqualByComparingTo("6");
        assertThat(ledger()).isZero();
    }

    @Test
    void manyHandsAtOnceNeverTakeMoreThanThereIs() throws Exception {
        as(() -> stock.receive(store, new ReceiveStock(lot, ml("5"))));
        as(() -> stock.receive(van, new ReceiveStock(lot, ml("5"))));
        var tries = new ArrayList<Callable<Boolean>>();
        for (int i = 0; i < 12; i++) {
            var out = i % 2 == 0;
            tries.add(() -> {
                try {
                    as(() -> out
                            ? stock.transfer(store, new TransferStock(lot, van, ml("2")))
                            : stock.transfer(van, new TransferStock(lot, store, ml("1"))));
                    return true;
                } catch (Invalid e) {
                    return false;
                }
            });
        }
        try (var hands = Executors.newFixedThreadPool(4)) {
            for (var done : hands.invokeAll(tries)) {
                done.get();
            }
        }
        assertThat(there(store).add(there(van))).isEqualByComparingTo("10");
        assertThat(there(store).signum()).isNotNegative();
        assertThat(ledger()).isZero();
    }

    @Test
    void whatIsTooLittleIsOnTheListToReorderAndWhatIsRecalledDoesNotCount() {
        as(() -> stock.receive(van, new ReceiveStock(lot, ml("10"))));
        asDispatcher(() -> stock.keepAtLeast(van, new StockLevel(LotKind.RESIN, ml("8"))));
        asDispatcher(() -> stock.keepAtLeast(van, new StockLevel(LotKind.BLADE, ml("6"))));
        assertThat(as(() -> stock.reorder(SliceRequest.first())).items())
                .extracting(ReorderLine::kind)
                .containsExactly(LotKind.BLADE);
        var blades = asDispatcher(
                () -> materials.create(new SaveLot("B-1", "blades", null, null, LotKind.BLADE)));
        as(() -> stock.receive(van, new ReceiveStock(blades.id(), ml("6"))));
        asDispatcher(() -> materials.recall(lot, "it yellows"));
        assertThat(as(() -> stock.reorder(SliceRequest.first())).items()).singleElement().satisfies(line -> {
            assertThat(line.kind()).isEqualTo(LotKind.RESIN);
            assertThat(line.usable()).isEqualByComparingTo("0");
            assertThat(line.missing()).isEqualByComparingTo("8");
        });
        refused("expiresOn", "date on the bottle", () -> materials.create(
                new SaveLot("R-2", "thin", null, null, LotKind.RESIN)));
        assertThatThrownBy(() -> asDispatcher(() -> {
                    stock.retire(van, 0);
                    return van;
                }))
                .isInstanceOf(JobRefused.class)
                .hasMessageContaining("Something still lies in Van 1");
        // A lot without a day to expire pages like the others.
        var lots = as(() -> materials.lots(new SliceRequest(1, null)));
        assertThat(as(() -> materials.lots(new SliceRequest(1, lots.next()))).items())
                .extracting(LotView::number)
                .containsExactly("B-1");
    }

    @Test
    void thePagesShowWhatLiesThereAndSayWhatIsWrongBesideItsField() {
        as(() -> stock.receive(van, new ReceiveStock(lot, ml("10"))));
        var technician = new ActingAuthentication(fleet.person(Role.TECHNICIAN));
        assertThat(mvc.get().uri("/stock/places").with(authentication(technician)).exchange())
                .hasStatusOk()
                .bodyText()
                .contains("Van 1", "Every place holds what it should");
        assertThat(mvc.get()
                        .uri("/stock/places/" + van)
                        .with(authentication(technician))
                        .exchange())
                .hasStatusOk()
                .bodyText()
                .contains("10.00 ml", "L-1", "Received");
        assertThat(mvc.get()
                        .uri("/stock/lots/" + lot)
                        .with(authentication(technician))
                        .exchange())
                .hasStatusOk()
                .bodyText()
                .contains("Where it lies");
        var wrong = mvc.post()
                .uri("/stock/places/" + van + "/count")
                .param("lot", lot.toString())
                .param("quantity", "7")
                .param("seen", "10.00")
                .param("reason", "")
                .with(authentication(technician))
                .with(csrf())
                .exchange();
        assertThat(wrong).hasStatus(422).bodyText().contains("why-" + lot + "-error", "value=\"7\"");
    }

    private void use(UUID job, UUID place, String quantity) {
        as(() -> {
            bench.use(job, new UseLot(lot, null, null, place, ml(quantity)));
            return lot;
        });
    }

    private BigDecimal there(UUID place) {
        return as(() -> stock.balances(place, SliceRequest.first())).items().stream()
                .map(StockBalance::quantity)
                .reduce(BigDecimal.ZERO, BigDecimal::add);
    }

    /** Balances that are not the sum of their movements. */
    private long ledger() {
        return Tenants.callAs(
                fleet.tenant(),
                () -> new TransactionTemplate(transactions)
                        .execute(status -> jdbc.sql("""
                            select count(*) from stock_balance b where tenant_id = :fleet and quantity <> (
                                select coalesce(sum(change), 0) from stock_movement m where m.tenant_id = b.tenant_id
                                    and m.place_id = b.place_id and m.lot_id = b.lot_id)\
                            """)
                                .param("fleet", fleet.id())
                                .query(Long.class)
                                .single()));
    }

    private UUID place(String name, StockPlaceKind kind) {
        return asDispatcher(() -> stock.create(new SaveStockPlace(name, kind))).id();
    }

    private void refused(String field, String words, Supplier<?> work) {
        assertThatThrownBy(() -> as(work::get))
                .isInstanceOfSatisfying(Invalid.class, e -> assertThat(e.field()).isEqualTo(field))
                .hasMessageContaining(words);
    }

    private <T> T as(Supplier<T> work) {
        return TestOrganisations.as(fleet, Role.TECHNICIAN, work);
    }

    private <T> T asDispatcher(Supplier<T> work) {
        return TestOrganisations.as(fleet, Role.DISPATCHER, work);
    }

    private static BigDecimal ml(String number) {
        return new BigDecimal(number);
    }
}
