package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.concurrent.ThreadLocalRandom;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.ReportDamage;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Finding;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.repair.Certificates;
import org.quarterlight.repair.CloseJob;
import org.quarterlight.repair.FinishedRepair;
import org.quarterlight.repair.InspectJob;
import org.quarterlight.repair.JobRefused;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.JobView;
import org.quarterlight.repair.RecordPhase;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.repair.RequestJob;
import org.quarterlight.repair.Result;
import org.quarterlight.repair.TestJobs;
import org.quarterlight.repair.Work;
import org.quarterlight.rulebook.ChooseRules;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.env.Environment;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

/** After a repair: the look over is judged by the sheets that travel in the brief, whoever performs it. */
@QuarterlightTest
class AcceptanceTests {
    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet vehicles;

    @Autowired
    private DamageReporting damages;

    @Autowired
    private RepairJobs jobs;

    @Autowired
    private Rulebook rulebook;

    @Autowired
    private Environment environment;

    @Autowired
    private TestJobs tests;

    @Autowired
    private Certificates certificates;

    @Autowired
    private MockMvcTester mvc;

    private @Nullable TestOrganisation fleet;
    private TestOrganisation repairer;

    @BeforeEach
    void aRepairer() {
        repairer = organisations.repairer();
    }

    @Test
    void aBritishRepairThatIsLevelClearAndOutOfTheWayOfTheViewPasses() {
        var job = underWay("GB");
        assertThat(job.brief().accepting()).isNotNull();
        assertThat(job.asked()).singleElement().satisfies(asked -> {
            assertThat(asked.asks().view()).isTrue();
            assertThat(asked.asks().level()).isTrue();
            assertThat(asked.asks().clear()).isTrue();
            assertThat(asked.asks().pit()).isFalse(); // BS AU 242b:2022 (secondary) names no finished pit
        });

        var passed = lookOver(job, found(job, null, null, Grade.NONE, true, true));

        assertThat(passed.state()).isEqualTo(JobState.INSPECTED);
        var acceptance = Objects.requireNonNull(passed.acceptance());
        assertThat(acceptance.result()).isEqualTo(org.quarterlight.eligibility.Result.YES);
        assertThat(acceptance.damages().getFirst().acceptance().findings())
                .extracting(Finding::rule)
                .containsExactly("view-undisturbed", "level-with-the-glass", "hardly-to-be-found");
    }

    /** BS AU 242b:2022 (secondary): view undisturbed, level with the glass, hardly to be found. */
    @ParameterizedTest
    @CsvSource({
        "MINOR, true, true, disturbs the view",
        "NONE, false, true, not level with the glass",
        "NONE, true, false, not clear from outside and from inside"
    })
    void whatASheetSaysNoToGoesBackUnderWayWithTheFindingsSentence(
            Grade view, boolean level, boolean clear, String sentence) {
        var job = underWay("GB");

        var back = lookOver(job, found(job, null, null, view, level, clear));

        assertThat(back.state()).isEqualTo(JobState.UNDER_WAY);
        assertThat(back.reason()).contains("It is not good enough", sentence);
        assertThat(back.notes()).anySatisfy(note -> assertThat(note.text()).contains("Not passed", sentence));
        assertThat(Objects.requireNonNull(back.acceptance()).result())
                .isEqualTo(org.quarterlight.eligibility.Result.NO);
        // Put right and looked over once more it passes.
        assertThat(lookOver(back, found(job, null, null, Grade.NONE, true, true))
                        .state())
                .isEqualTo(JobState.INSPECTED);
    }

    @Test
    void whatNobodyLookedAtIsNamed() {
        var job = underWay("GB");
        assertThatThrownBy(() -> lookOver(job, found(job, null, null, Grade.NONE, null, true)))
                .isInstanceOf(JobRefused.class)
                .hasMessageContaining("Feel whether it is level with the glass.");
        assertThatThrownBy(() -> as(
                        repairer,
                        Role.TECHNICIAN,
                        () -> jobs.inspect(job.id(), new InspectJob(true, null, List.of(), null))))
                .isInstanceOf(JobRefused.class)
                .hasMessageContaining("Say whether it disturbs the view.");
        assertThat(tests.job(repairer, Role.TECHNICIAN, job.id()).state()).isEqualTo(JobState.UNDER_WAY);
    }

    /** ROLAGS 2014 (memory): a finished pit in the driver's primary viewing area is at most 3/16 in, 4.7625 mm. */
    @ParameterizedTest
    @CsvSource({
        "4.7625, 0, INSPECTED",
        "4.76, 0, INSPECTED",
        "4.763, 0, UNDER_WAY",
        "4.26, 0.3, INSPECTED", // 1.645 standard uncertainties under it, JCGM 106
        "5.27, 0.3, UNDER_WAY"
    })
    void anAmericanPitIsJudgedAtJustUnderAndJustOverItsLimit(String pit, String uncertainty, JobState expected) {
        var job = underWay("US");
        var after = lookOver(job, found(job, pit, uncertainty, Grade.NONE, null, null));
        assertThat(after.state()).isEqualTo(expected);
        assertThat(after.reason()).satisfies(reason -> {
            if (expected == JobState.UNDER_WAY) {
                assertThat(reason).contains("across the pit, at most 4.76 mm is allowed in the driver's zone");
            } else {
                assertThat(reason).isNull();
            }
        });
    }

    @Test
    void aPitTooCloseToTheLimitNamesWhatToMeasureAndHowWell() {
        var job = underWay("US");
        assertThatThrownBy(() -> lookOver(job, found(job, "4.6", null, Grade.NONE, null, null)))
                .isInstanceOf(JobRefused.class)
                // (4.7625 - 4.6) / 1.645
                .hasMessageContaining("Measure its pit to ± 0.09 mm or better.");
        assertThat(lookOver(job, found(job, "4.6", "0.09", Grade.NONE, null, null))
                        .state())
                .isEqualTo(JobState.INSPECTED);
    }

    @Test
    void whereNoStandardIsKeptCommonPracticeIsAsked() {
        var job = underWay("DE");
        assertThat(Objects.requireNonNull(job.brief().accepting()).sheets())
                .extracting(copy -> copy.sheet().id())
                .containsExactly("common-practice-finished");
        assertThat(lookOver(job, found(job, null, null, Grade.MINOR, true, true))
                        .state())
                .isEqualTo(JobState.INSPECTED);
        // What is still to be seen does not end as good, whatever whoever closes it says.
        assertThatThrownBy(() -> as(
                        repairer,
                        Role.TECHNICIAN,
                        () -> jobs.close(job.id(), new CloseJob(Result.GOOD, "Filled.", null, null, null))))
                .isInstanceOf(Invalid.class)
                .hasMessageContaining("still to be seen");
    }

    @Test
    void aFleetChoosesItsSheetsAndJobsThatWereMadeBeforeKeepTheirs() {
        var before = underWay("GB");
        as(
                Objects.requireNonNull(fleet),
                Role.MANAGER,
                () -> rulebook.choose(
                        new ChooseRules(
                                Map.of(
                                        VehicleCategory.M1,
                                        List.of(
                                                "uk-cars-roadworthiness",
                                                "bs-au-242b-2022",
                                                "us-rolags-2014-finished")),
                                null,
                                null,
                                null,
                                null,
                                null,
                                null),
                        0));
        assertThat(Objects.requireNonNull(underWay("GB").brief().accepting()).sheets())
                .extracting(copy -> copy.sheet().id())
                .containsExactly("us-rolags-2014-finished");
        var kept = tests.job(repairer, Role.TECHNICIAN, before.id());
        assertThat(Objects.requireNonNull(kept.brief().accepting()).sheets())
                .extracting(copy -> copy.sheet().id())
                .containsExactly("bs-au-242b-2022-finished");
    }

    @Test
    void aJobFromBeforeSheetsTravelledIsPassedByWhoeverLooks() {
        var job = underWay("GB");
        JdbcClient.create(new DriverManagerDataSource(
                        Objects.requireNonNull(environment.getProperty("spring.datasource.url")),
                        TestServer.superuser(),
                        TestServer.superuserPassword()))
                .sql("update job set brief = brief - 'accepting' where id = :job")
                .param("job", job.id())
                .update();
        var passed = as(
                repairer, Role.TECHNICIAN, () -> jobs.inspect(job.id(), new InspectJob(true, null, List.of(), null)));
        assertThat(passed.state()).isEqualTo(JobState.INSPECTED);
        assertThat(passed.acceptance()).isNull();
    }

    @Test
    void theAnswerStandsOnTheDamageTheJobAndTheCertificateOfAClosedJob() {
        var lot = tests.lot(repairer, "TR-" + UUID.randomUUID());
        fleet = organisations.fleet("GB");
        organisations.join(fleet, repairer);
        var owner = fleet;
        var vehicle = as(owner, Role.MANAGER, () -> {
            var depot = depots.create(depot("GB"));
            return vehicles.create(TestBusiness.vehicle(depot.id(), "QV23 KTB")).id();
        });
        var job = tests.shared(owner, repairer, vehicle, 1).id();

        var closed = tests.closed(repairer, job, lot);
        tests.settle();

        var damage = closed.brief().damages().getFirst();
        assertThat(damage.findings())
                .as("the loudest of each question")
                .extracting(Finding::question)
                .doesNotHaveDuplicates()
                .contains(Question.ROADWORTHY, Question.REPAIRABLE);
        var verdict = as(owner, Role.MANAGER, () -> damages.damage(damage.id())).verdict();
        assertThat(Objects.requireNonNull(verdict.answers().acceptable()).result())
                .isEqualTo(org.quarterlight.eligibility.Result.YES);
        assertThat(verdict.sentence()).isEqualTo("Repaired. All rules for finished repairs are kept.");
        var certified = as(owner, Role.MANAGER, () -> certificates.of(job))
                .content()
                .job()
                .acceptance();
        assertThat(Objects.requireNonNull(certified)
                        .damages()
                        .getFirst()
                        .acceptance()
                        .findings())
                .hasSize(3);
        assertThat(text(owner, Role.MANAGER, "/jobs/" + job))
                .contains("The finished repair", "Level with the glass", "read second-hand");
        assertThat(text(owner, Role.MANAGER, "/damages/" + damage.id()))
                .contains("The finished repair", "All rules for finished repairs are kept.");
        assertThat(text(owner, Role.MANAGER, "/damages/" + damage.id() + "/verdicts"))
                .contains("The look over of the repair");
    }

    @Test
    void thePageOfTheWorkAsksOnlyWhatTheSheetsReadAndTellsTheAnswerInWords() {
        var job = underWay("GB");
        var run = "/jobs/" + job.id() + "/run";
        assertThat(text(repairer, Role.TECHNICIAN, run))
                .contains("found[0].level", "found[0].clearInside", "BS AU 242b:2022, finished repairs")
                .doesNotContain("found[0].pitMm", "found[0].xMm");
        assertThat(post(job, "passed", "true", "found[0].level", "true", "found[0].view", "none"))
                .hasStatus(409)
                .bodyText()
                .contains("Look at it from outside and from inside");
        assertThat(post(
                        job,
                        "passed",
                        "true",
                        "found[0].level",
                        "false",
                        "found[0].view",
                        "none",
                        "found[0].clearOutside",
                        "true",
                        "found[0].clearInside",
                        "true"))
                .hasRedirectedUrl(run);
        assertThat(text(repairer, Role.TECHNICIAN, run)).contains("it is not level with the glass", "Not passed");
        assertThat(post(job, "passed", "true", "found[0].level", "x")).hasStatus4xxClientError();
        assertThat(post(job, "passed", "false")).hasStatus(422).bodyText().contains("Say why");
    }

    private MvcTestResult post(JobView job, String... fields) {
        var request = mvc.post()
                .uri("/jobs/" + job.id() + "/inspect")
                .with(TestCsrf.csrf())
                .with(authentication(new ActingAuthentication(repairer.person(Role.TECHNICIAN))))
                .param("found[0].damage", job.brief().damages().getFirst().id().toString());
        for (int i = 0; i < fields.length; i += 2) {
            request = request.param(fields[i], fields[i + 1]);
        }
        return request.exchange();
    }

    private String text(TestOrganisation by, Role role, String path) {
        var answer = mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(by.person(role))))
                .exchange();
        assertThat(answer).hasStatusOk();
        return new String(answer.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
    }

    private int begun;

    private JobView underWay(String country) {
        if (this.fleet == null) {
            this.fleet = organisations.fleet(country);
            organisations.join(this.fleet, repairer);
        }
        var fleet = this.fleet;
        var vehicle = as(fleet, Role.MANAGER, () -> {
            var depot = depots.create(depot(country));
            return vehicles.create(vehicle(depot.id())).id();
        });
        var damage = as(
                fleet,
                Role.MANAGER,
                () -> damages.report(new ReportDamage(vehicle, DamageKind.BULLSEYE, null, seen())));
        var job = as(fleet, Role.MANAGER, () -> {
            var made = jobs.request(new RequestJob(
                    Work.REPAIR, List.of(damage.id()), true, null, Instant.now().minus(Duration.ofHours(2))));
            return jobs.share(made.id(), repairer.id());
        });
        return as(repairer, Role.TECHNICIAN, () -> {
            // One after the other: a technician has two hands.
            var at = Instant.now().minus(Duration.ofMinutes(105 - 35 * begun++)).truncatedTo(ChronoUnit.SECONDS);
            jobs.start(job.id(), at);
            for (var kind : PhaseKind.values()) {
                var ends = at.plus(Duration.ofMinutes(kind == PhaseKind.CURE ? 10 : 2));
                jobs.recordPhase(
                        job.id(),
                        new RecordPhase(kind, at, ends, null, null, "once more", null, null, null, null, true));
                at = ends;
            }
            return jobs.job(job.id());
        });
    }

    private JobView lookOver(JobView job, FinishedRepair found) {
        return as(
                repairer,
                Role.TECHNICIAN,
                () -> jobs.inspect(job.id(), new InspectJob(true, null, List.of(found), null)));
    }

    private static FinishedRepair found(
            JobView job,
            @Nullable String pit,
            @Nullable String uncertainty,
            Grade view,
            @Nullable Boolean level,
            @Nullable Boolean clear) {
        return new FinishedRepair(
                job.brief().damages().getFirst().id(),
                pit == null ? null : new BigDecimal(pit),
                null,
                null,
                Seen.GAUGE,
                uncertainty == null ? null : new BigDecimal(uncertainty),
                view,
                level,
                clear,
                clear,
                null,
                null,
                null,
                null);
    }

    private static <T extends @Nullable Object> T as(TestOrganisation organisation, Role role, Supplier<T> work) {
        return TestOrganisations.as(organisation, role, work);
    }

    private static SaveDepot depot(String country) {
        return new SaveDepot(
                "Yard " + UUID.randomUUID(),
                null,
                new BigDecimal("51.5"),
                new BigDecimal("-0.12"),
                "Europe/London",
                country,
                null,
                null,
                null,
                null);
    }

    private static SaveVehicle vehicle(UUID depot) {
        return new SaveVehicle(
                depot,
                "QV " + ThreadLocalRandom.current().nextInt(100_000, 999_999),
                null,
                VehicleCategory.M1,
                1900,
                SteeringSide.LEFT,
                null,
                null,
                null);
    }

    /** Before the driver's seat, clear of the camera. */
    private static SeenDamage seen() {
        return new SeenDamage(
                BigDecimal.valueOf(350),
                BigDecimal.valueOf(300),
                null,
                null,
                BigDecimal.valueOf(9),
                new BigDecimal("0.3"),
                BigDecimal.valueOf(3),
                null,
                Layers.OUTER,
                Condition.CLEAN_DRY,
                Seen.GAUGE,
                null,
                null);
    }
}
