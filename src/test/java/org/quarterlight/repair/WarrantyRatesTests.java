package org.quarterlight.repair;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.function.Supplier;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.repair.WarrantyRates.By;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** Which repairs come back, by who did them, with what, and how; also where somebody else makes them good. */
@QuarterlightTest
class WarrantyRatesTests {
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
    private WarrantyRates rates;

    @Test
    void oneOfTwoRepairsCameBackUntilNobodyAsksForItAnyMore() {
        var fleet = organisations.fleet();
        var repairer = organisations.repairer();
        organisations.join(fleet, repairer);
        var vehicle =
                fleets.vehicle(fleet, fleets.depot(fleet, "Yard").id(), null).id();
        var good = made.lot(repairer, "L-good");
        var bad = made.lot(repairer, "L-bad");
        made.closed(repairer, made.shared(fleet, repairer, vehicle, 1).id(), good);
        var failing = made.shared(fleet, repairer, vehicle, 1).id();
        made.closed(repairer, failing, bad);
        made.settle();
        var closed = made.job(fleet, Role.MANAGER, failing);
        var warranty = TestOrganisations.as(
                fleet,
                Role.MANAGER,
                () -> jobs.request(new RequestJob(Work.REPAIR, TestJobs.damages(closed), false, failing, null)));
        assertThat(made.job(repairer, Role.DISPATCHER, failing).cameBackAt()).isNotNull();

        var technician = as(repairer, () -> rates.rates(By.TECHNICIAN, null, null, SliceRequest.first()))
                .items();
        assertThat(technician).singleElement().satisfies(rate -> {
            assertThat(rate.id()).isEqualTo(repairer.person(Role.TECHNICIAN).person());
            assertThat(rate.repairs()).isEqualTo(2);
            assertThat(rate.cameBack()).isEqualTo(1);
            assertThat(rate.rate()).isCloseTo(0.5, within(1e-9));
            assertThat(rate.rateLow()).isBetween(0.05, 0.15);
            assertThat(rate.rateHigh()).isBetween(0.85, 0.95);
        });
        var lots = as(repairer, () -> rates.rates(By.LOT, null, null, SliceRequest.first()))
                .items();
        // Each pit was filled from a lot of its own, which is listed beside the resin's.
        assertThat(lots)
                .filteredOn(rate -> rate.name().startsWith("L-"))
                .extracting(WarrantyRateView::name, WarrantyRateView::cameBack)
                .containsExactly(tuple("L-bad", 1L), tuple("L-good", 0L));
        var first = as(repairer, () -> rates.rates(By.LOT, null, null, new SliceRequest(1, null)));
        var second = as(repairer, () -> rates.rates(By.LOT, null, null, new SliceRequest(1, first.next())));
        assertThat(List.of(first.items().getFirst(), second.items().getFirst())).isEqualTo(lots.subList(0, 2));
        assertThat(as(repairer, () -> rates.rates(By.METHOD, null, null, SliceRequest.first()))
                        .items())
                .singleElement()
                .extracting(WarrantyRateView::name)
                .isEqualTo("Generic resin repair");
        assertThatThrownBy(
                        () -> TestOrganisations.as(fleet, Role.DISPATCHER, () -> jobs.contest(failing, "ours to say")))
                .isInstanceOf(AccessDeniedException.class);
        var contested = as(repairer, () -> jobs.contest(failing, "a new impact, 4 mm beside it"));
        assertThat(Objects.requireNonNull(contested.contested()).reason()).isEqualTo("a new impact, 4 mm beside it");
        assertThat(contested.cameBackAt()).isNotNull();
        assertThatThrownBy(() -> as(repairer, () -> jobs.contest(failing, "once more")))
                .isInstanceOf(JobRefused.class);
        assertThat(as(repairer, () -> rates.rates(By.TECHNICIAN, null, null, SliceRequest.first()))
                        .items())
                .singleElement()
                .satisfies(rate -> {
                    assertThat(rate.cameBack()).isEqualTo(1);
                    assertThat(rate.contested()).isEqualTo(1);
                });
        assertThat(mvc.get()
                        .uri("/jobs/" + failing)
                        .with(authentication(new ActingAuthentication(fleet.person(Role.MANAGER))))
                        .exchange())
                .hasStatusOk()
                .bodyText()
                .contains("contested by", "a new impact, 4 mm beside it");
        // Another period, and another performer, have none.
        var lastYear = LocalDate.now().minusYears(1);
        assertThat(as(repairer, () -> rates.rates(By.LOT, lastYear, lastYear, SliceRequest.first()))
                        .items())
                .isEmpty();
        assertThat(as(fleet, () -> rates.rates(By.TECHNICIAN, null, null, SliceRequest.first()))
                        .items())
                .isEmpty();
        for (var by : List.of("technician", "lot", "method")) {
            assertThat(mvc.get()
                            .uri("/warranty?by=" + by)
                            .with(authentication(new ActingAuthentication(repairer.person(Role.DISPATCHER))))
                            .exchange())
                    .hasStatusOk()
                    .bodyText()
                    .contains("Wilson", " %");
        }

        TestOrganisations.as(fleet, Role.MANAGER, () -> jobs.decline(warranty.id(), "it was dirt", null));
        assertThat(as(repairer, () -> rates.rates(By.TECHNICIAN, null, null, SliceRequest.first()))
                        .items()
                        .getFirst()
                        .cameBack())
                .isZero();
        assertThat(Objects.requireNonNull(made.job(repairer, Role.DISPATCHER, failing))
                        .cameBackAt())
                .isNull();
    }

    private static <T> T as(TestOrganisation who, Supplier<T> work) {
        return TestOrganisations.as(who, Role.DISPATCHER, work);
    }
}
