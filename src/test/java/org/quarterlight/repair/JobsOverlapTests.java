package org.quarterlight.repair;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.util.List;
import java.util.UUID;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** One pair of hands is at two jobs in the same time only where the methods of both leave it. */
@QuarterlightTest
class JobsOverlapTests {
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
    private Methods methods;

    private TestOrganisation fleet;
    private UUID strict;

    @BeforeEach
    void aMethodThatLeavesNoTimeForOthers() {
        fleet = organisations.fleet();
        strict = TestOrganisations.as(fleet, Role.DISPATCHER, () -> methods.create(method("Watched")))
                .id();
    }

    @Test
    void whileOneLiesUnderTheLampAnotherIsBegun() {
        var first = begun(null);
        var second = begun(null);
        as(() -> jobs.recordPhase(first, cure()));
        assertThat(as(() -> jobs.recordPhase(second, RecordPhase.of(PhaseKind.PREPARE, null, null)))
                        .phases())
                .hasSize(1);
        // And the other way about: what was begun under the lamp goes under it while the hands are at the other.
        var third = begun(null);
        as(() -> jobs.abandon(first, "it ran", null));
        assertThat(as(() -> jobs.recordPhase(third, cure())).phases()).hasSize(1);
    }

    @Test
    void noTwoPhasesThatNeedHandsGoTogether() {
        var first = begun(null);
        var second = begun(null);
        as(() -> jobs.recordPhase(first, RecordPhase.of(PhaseKind.PREPARE, null, null)));
        assertThatThrownBy(() -> as(() -> jobs.recordPhase(second, RecordPhase.of(PhaseKind.PREPARE, null, null))))
                .isInstanceOfSatisfying(
                        JobsOverlap.class,
                        refused -> assertThat(refused.other()).isEqualTo(first))
                .hasMessageContaining("only while one lies under the lamp");
    }

    @Test
    void aMethodOfEitherJobThatLeavesNoTimeRefusesTheOther() {
        for (var methodsOfBoth : List.of(List.of(strict, Methods.GENERIC), List.of(Methods.GENERIC, strict))) {
            var first = begun(methodsOfBoth.getFirst());
            var second = begun(methodsOfBoth.getLast());
            var running = as(() -> jobs.recordPhase(first, RecordPhase.of(PhaseKind.PREPARE, null, null)))
                    .phases()
                    .getFirst();
            assertThatThrownBy(() -> as(() -> jobs.recordPhase(second, RecordPhase.of(PhaseKind.PREPARE, null, null))))
                    .isInstanceOfSatisfying(
                            JobsOverlap.class,
                            refused -> assertThat(refused.other()).isEqualTo(first))
                    .hasMessageContaining("Watched lets no other job");

            as(() -> jobs.endPhase(first, running.id(), EndPhase.NOW));
            as(() -> jobs.recordPhase(second, RecordPhase.of(PhaseKind.PREPARE, null, null)));
            as(() -> jobs.abandon(first, "it ran", null));
            as(() -> jobs.abandon(second, "it ran", null));
        }
    }

    @Test
    void thePageLeadsToTheOtherJob() {
        var first = begun(strict);
        var second = begun(strict);
        as(() -> jobs.recordPhase(first, RecordPhase.of(PhaseKind.PREPARE, null, null)));
        var answer = mvc.post()
                .uri("/jobs/" + second + "/phases")
                .param("kind", "prepare")
                .with(authentication(new ActingAuthentication(fleet.person(Role.TECHNICIAN))))
                .with(csrf())
                .exchange();
        assertThat(answer).hasStatus3xxRedirection();
        assertThat(String.valueOf(answer.getMvcResult().getFlashMap().get("notice")))
                .contains("/jobs/" + first + "/run", "End that phase first");
        assertThat(mvc.post()
                        .uri("/api/v1/jobs/" + second + "/phases")
                        .header("Authorization", fleet.bearer(Role.TECHNICIAN))
                        .contentType("application/json")
                        .content("{\"kind\": \"prepare\"}")
                        .exchange())
                .hasStatus(409)
                .bodyText()
                .contains("jobs-overlap");
    }

    private static RecordPhase cure() {
        return new RecordPhase(PhaseKind.CURE, null, null, null, null, null, null, null, null, null, true);
    }

    private UUID begun(@Nullable UUID method) {
        var depot = fleets.depot(fleet, "Yard " + UUID.randomUUID());
        var vehicle = fleets.vehicle(fleet, depot.id(), null);
        var job = made.approved(fleet, vehicle.id(), 1);
        as(() -> jobs.start(job.id(), method, null));
        return job.id();
    }

    private <T> T as(Supplier<T> work) {
        return TestOrganisations.as(fleet, Role.TECHNICIAN, work);
    }

    private static SaveMethod method(String name) {
        return new SaveMethod(
                name,
                "thin",
                "Data sheet 1",
                null,
                null,
                null,
                null,
                1,
                0,
                false,
                List.of(
                        new SaveMethod.SaveStep(PhaseKind.INJECT, true, 60, null),
                        new SaveMethod.SaveStep(PhaseKind.CURE, true, 600, null)));
    }
}
