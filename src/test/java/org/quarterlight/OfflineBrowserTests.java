package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.PlaywrightException;
import com.microsoft.playwright.options.FilePayload;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.awaitility.Awaitility;
import org.awaitility.core.ConditionFactory;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.damage.DamageFilter;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.fleet.CabCodes;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.repair.EndPhase;
import org.quarterlight.repair.JobDeviceTime;
import org.quarterlight.repair.JobPhase;
import org.quarterlight.repair.JobView;
import org.quarterlight.repair.RecordPhase;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.repair.RequestJob;
import org.quarterlight.repair.Work;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.core.env.Environment;
import org.springframework.jdbc.core.simple.JdbcClient;
import tools.jackson.databind.json.JsonMapper;

/** In a real browser on a line that is cut: work goes on, nothing is lost, and nothing is done twice. */
@QuarterlightTest
class OfflineBrowserTests {
    /** An hour ahead, in pages as in the worker, until it is put right. */
    private static final String CLOCK_AHEAD = """
        {
          const Right = Date;
          let aheadMs = 3_600_000;
          new BroadcastChannel("clock-of-tests").onmessage = ({ data }) => (aheadMs = data);
          globalThis.Date = class extends Right {
            constructor(...told) {
              if (told.length === 0) super(Right.now() + aheadMs);
              else super(...told);
            }
            static now() {
              return Right.now() + aheadMs;
            }
          };
        }
        """;

    private static final String KEPT = """
        async () => {
          const { present, thing, actions } = await import("/js/kept/store.js");
          const who = await present();
          const page = who && (await (await caches.open("kept-" + who)).match("/jobs/today"));
          const kit = who && (await thing(who, "kit"));
          return Boolean(navigator.serviceWorker.controller && page && kit && (await actions()).length === 0);
        }""";

    private static @Nullable Playwright playwright;
    private static @Nullable Browser browser;
    private static Path chromium = Path.of("/usr/bin/chromium");

    @TempDir
    private Path folder;

    @LocalServerPort
    private int port;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private TestBusiness business;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet fleet;

    @Autowired
    private CabCodes cabCodes;

    @Autowired
    private DamageReporting damages;

    @Autowired
    private RepairJobs jobs;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private Environment environment;

    @Autowired
    private JsonMapper json;

    private Line line;
    private TestOrganisation own;
    private UUID vehicle;
    private UUID job;
    private @Nullable BrowserContext context;

    @BeforeAll
    static void openTheBrowser() {
        chromium = Path.of(Objects.requireNonNullElse(System.getenv("CHROMIUM"), "/usr/bin/chromium"));
        var found = Files.isExecutable(chromium);
        if (System.getenv("CI") != null) {
            assertThat(found).as("a browser, which must not be missing here").isTrue();
        }
        assumeTrue(found, "no Chromium at " + chromium + ": name one in CHROMIUM");
        playwright = Playwright.create(
                new Playwright.CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
        browser = playwright
                .chromium()
                .launch(new BrowserType.LaunchOptions()
                        .setHeadless(true)
                        .setChromiumSandbox(false)
                        .setExecutablePath(chromium)
                        .setArgs(List.of("--disable-gpu", "--no-first-run", "--disable-background-networking")));
    }

    @AfterAll
    static void closeTheBrowser() {
        if (playwright != null) {
            playwright.close();
        }
    }

    @BeforeEach
    void aJobOfTheDay() {
        line = new Line(port);
        own = organisations.fleet();
        vehicle = as(Role.MANAGER, () -> {
            var depot = depots.create(TestBusiness.depot("North yard"));
            return fleet.create(TestBusiness.vehicle(depot.id(), "QV23 KTB")).id();
        });
        var damage = business.report(own, vehicle, "300");
        job = as(Role.MANAGER, () -> jobs.request(new RequestJob(Work.REPAIR, List.of(damage.id()), true, null, null)))
                .id();
    }

    @AfterEach
    void hangUp() {
        if (context != null) {
            context.close();
        }
        line.close();
    }

    @Test
    void theNetworkIsCutInTheMiddleOfAJobAndTheRecordIsWholeAfterwards() {
        as(Role.TECHNICIAN, () -> jobs.start(job, null));
        var page = signedIn(newContext(), Role.TECHNICIAN);
        keptAt(page, "/jobs/" + job + "/run");
        page.click("text=Start: Prepare");
        page.waitForSelector("button:has-text(\"Stop the clock\")");
        until(page, KEPT, null);

        line.cut();
        page.fill("#reading", "3 bar");
        page.click("button:has-text(\"Stop the clock\")");
        page.waitForSelector("text=1 action waits to be sent");
        assertThat(page.textContent("main")).contains("From this device", "waits to be sent", "3 bar");
        page.click("text=Not needed here. Start: Clean");
        page.waitForSelector(".clock");
        assertThat(page.textContent(".clock")).matches("\\d\\d:\\d\\d");
        page.reload();
        page.waitForSelector("h1:has-text(\"Clean\")");
        page.click("button:has-text(\"Stop the clock\")");
        page.waitForSelector("text=3 actions wait to be sent");
        conditions(page, "12");
        assertThat(page.textContent("#conditions"))
                .contains("Wait", "The glass has 12.0 °C; the method asks for at least 20.0 °C.");
        conditions(page, "22");
        assertThat(page.textContent("#conditions")).contains("Go", "7.3 °C");
        check(page);
        page.fill("#text", "Shade put up, no network.");
        page.click("text=Keep the note");
        page.waitForSelector("text=6 actions wait to be sent");
        page.setInputFiles("#photo-file", new FilePayload("before.jpg", "image/jpeg", TestBusiness.pictureBytes()));
        page.click("button[name=shows][value=before]");
        page.waitForSelector("text=7 actions wait to be sent");
        assertThat(record().phases()).hasSize(1);
        assertThat(record().notes()).isEmpty();

        line.mend();
        online(page);
        patiently().untilAsserted(() -> assertThat(record().photos()).hasSize(1));
        var record = record();
        assertThat(record.phases()).extracting(JobPhase::kind).containsExactly(PhaseKind.PREPARE, PhaseKind.CLEAN);
        assertThat(record.phases())
                .allSatisfy(phase -> assertThat(phase.endedAt()).isNotNull());
        assertThat(record.phases().getFirst().reading()).isEqualTo("3 bar");
        assertThat(record.phases().getFirst().deviceOffsetSeconds()).isNull();
        assertThat(record.phases().getLast().deviceOffsetSeconds()).isBetween(-2, 2);
        assertThat(record.readings()).hasSize(2);
        assertThat(record.notes()).hasSize(1);
        var clean = record.phases().getLast().id();
        assertThat(record.notes().getFirst().phase()).isEqualTo(clean);
        assertThat(record.photos().getFirst().phase()).isEqualTo(clean);
        assertThat(record.deviceTimes())
                .extracting(JobDeviceTime::what)
                .containsExactlyInAnyOrder("end", "phases", "end", "conditions", "conditions", "notes", "photos");
        assertThat(record.deviceTimes()).allSatisfy(told -> {
            assertThat(told.offsetSeconds()).isBetween(-2, 2);
            assertThat(told.clockChangedSeconds()).isNull();
        });
        // The service's own page again.
        page.waitForSelector("main:not([data-day]) button:has-text(\"Start: Mount\")");
    }

    @Test
    void aPhaseWhoseAnswerIsLostIsSentThreeTimesAndRecordedOnce() {
        as(Role.TECHNICIAN, () -> jobs.start(job, null));
        var page = signedIn(newContext(), Role.TECHNICIAN);
        keptAt(page, "/jobs/" + job + "/run");
        var before = line.posts();
        line.loseAnswersToPosts();
        page.click("text=Start: Prepare");
        page.waitForSelector("text=1 action waits to be sent");
        online(page);
        patiently().untilAsserted(() -> assertThat(line.posts() - before).isGreaterThanOrEqualTo(2));
        assertThat(record().phases()).hasSize(1);
        line.mend();
        online(page);
        until(page, KEPT, null);
        assertThat(line.posts() - before).isGreaterThanOrEqualTo(3);
        assertThat(record().phases()).hasSize(1);
    }

    @Test
    void aDeviceWhoseClockIsAnHourAheadTellsTheRightTimes() {
        as(Role.TECHNICIAN, () -> jobs.start(job, null));
        var page = anHourAhead();
        line.cut();
        page.click("text=Start: Prepare");
        var pressed = Instant.now();
        page.waitForSelector("text=1 action waits to be sent");
        assertThat(page.textContent(".clock")).as("by the service's clock").startsWith("00:");
        page.click("button:has-text(\"Stop the clock\")");
        page.waitForSelector("text=2 actions wait to be sent");
        line.mend();
        online(page);
        patiently()
                .untilAsserted(() -> assertThat(record().phases())
                        .singleElement()
                        .satisfies(phase -> assertThat(phase.endedAt()).isNotNull()));
        var phase = record().phases().getFirst();
        assertThat(phase.startedAt()).isCloseTo(pressed, within(15, ChronoUnit.SECONDS));
        assertThat(phase.deviceOffsetSeconds()).isBetween(3595, 3605);
    }

    @Test
    void theEndAloneAndAReadingAreCorrectedToo() {
        as(Role.TECHNICIAN, () -> jobs.start(job, null));
        as(Role.TECHNICIAN, () -> jobs.recordPhase(job, RecordPhase.of(PhaseKind.PREPARE, null, null)));
        var page = anHourAhead();
        line.cut();
        page.click("button:has-text(\"Stop the clock\")");
        var pressed = Instant.now();
        page.waitForSelector("text=1 action waits to be sent");
        conditions(page, "22");
        line.mend();
        online(page);
        patiently().untilAsserted(() -> assertThat(record().readings()).hasSize(1));
        var phase = record().phases().getFirst();
        assertThat(phase.deviceOffsetSeconds()).as("the service's own").isNull();
        assertThat(phase.endedAt()).isCloseTo(pressed, within(15, ChronoUnit.SECONDS));
        assertThat(record().readings().getFirst().readAt()).isCloseTo(pressed, within(15, ChronoUnit.SECONDS));
        assertThat(record().deviceTimes()).hasSize(2).allSatisfy(told -> {
            assertThat(told.offsetSeconds()).isBetween(3595, 3605);
            assertThat(told.clockChangedSeconds()).isNull();
        });
    }

    @Test
    void aClockThatIsPutRightBeforeSendingIsNoticedAndMarked() {
        as(Role.TECHNICIAN, () -> jobs.start(job, null));
        var page = anHourAhead();
        line.cut();
        page.click("text=Start: Prepare");
        var pressed = Instant.now();
        page.waitForSelector("text=1 action waits to be sent");
        page.fill("#text", "Wind from the west.");
        page.click("text=Keep the note");
        page.waitForSelector("text=2 actions wait to be sent");
        // As a phone does that has found its network again.
        page.evaluate("new BroadcastChannel('clock-of-tests').postMessage(0)");
        line.mend();
        online(page);
        patiently().untilAsserted(() -> assertThat(record().notes()).hasSize(1));
        assertThat(record().phases().getFirst().startedAt()).isCloseTo(pressed, within(15, ChronoUnit.SECONDS));
        assertThat(record().notes().getFirst().writtenAt()).isCloseTo(pressed, within(20, ChronoUnit.SECONDS));
        assertThat(record().deviceTimes()).hasSize(2).allSatisfy(told -> {
            assertThat(told.offsetSeconds()).isBetween(3595, 3605);
            assertThat(told.clockChangedSeconds()).isBetween(-3605, -3595);
        });
        go(page, line.address() + "/jobs/" + job + "?online");
        assertThat(page.textContent("#device-times")).contains("Note", "its clock was changed by -3");
    }

    /** The service is a process, killed as by a power cut after a commit and before its answer has gone out. */
    @Test
    void theServiceIsKilledWhileItTakesWhatWaitedAndHasItOnceAfterwards() throws IOException {
        as(Role.TECHNICIAN, () -> jobs.start(job, null));
        var own = ServiceProcess.freePort();
        var log = folder.resolve("service.log");
        line.close();
        line = new Line(own);
        try (var first = ServiceProcess.start(environment, own, log)) {
            var page = signedIn(newContext(), Role.TECHNICIAN);
            // A service that has just started is slow, and a page that came before the worker stays without it.
            page.evaluate("() => navigator.serviceWorker.ready.then(() => true)");
            keptAt(page, "/jobs/" + job + "/run");
            line.cut();
            page.click("text=Start: Prepare");
            page.waitForSelector("text=1 action waits to be sent");
            page.click("button:has-text(\"Stop the clock\")");
            page.waitForSelector("text=2 actions wait to be sent");
            page.fill("#text", "Written before the power cut.");
            page.click("text=Keep the note");
            page.waitForSelector("text=3 actions wait to be sent");
            line.atAnswerToPost(2, first::kill);
            line.mend();
            online(page);
            patiently()
                    .untilAsserted(() -> assertThat(record().phases())
                            .singleElement()
                            .satisfies(phase -> assertThat(phase.endedAt()).isNotNull()));
            var ended = record().phases().getFirst().endedAt();
            assertThat(record().notes()).isEmpty();
            page.waitForSelector("text=2 actions wait to be sent");
            // The work goes on meanwhile.
            page.click("text=Not needed here. Start: Clean");
            page.waitForSelector("text=3 actions wait to be sent");
            page.click("button:has-text(\"Stop the clock\")");
            page.waitForSelector("text=4 actions wait to be sent");
            try (var second = ServiceProcess.start(environment, own, log)) {
                online(page);
                patiently().untilAsserted(() -> assertThat(record().notes()).hasSize(1));
                until(page, KEPT, null);
                var phases = record().phases();
                assertThat(phases).extracting(JobPhase::kind).containsExactly(PhaseKind.PREPARE, PhaseKind.CLEAN);
                assertThat(phases.getFirst().endedAt()).isEqualTo(ended);
                assertThat(phases.getLast().endedAt()).isNotNull();
                assertThat(record().deviceTimes())
                        .extracting(JobDeviceTime::what)
                        .containsExactly("phases", "end", "notes", "phases", "end");
                assertThat(line.posts()).as("one of them twice").isGreaterThanOrEqualTo(6);
                assertThat(page.locator("[data-refused]").count()).isZero();
                assertThat(second).isNotNull();
            }
        }
    }

    private Page anHourAhead() {
        line.beforeWorker(CLOCK_AHEAD);
        var wrong = newContext();
        wrong.addInitScript(CLOCK_AHEAD);
        var page = signedIn(wrong, Role.TECHNICIAN);
        keptAt(page, "/jobs/" + job + "/run");
        return page;
    }

    @Test
    void whatWaitsOutlivesTheBrowserAndASessionThatHasEnded() throws IOException {
        as(Role.DISPATCHER, () -> jobs.assign(job, own.person(Role.TECHNICIAN).person()));
        var profile = Files.createDirectory(folder.resolve("profile"));
        var page = signedIn(persistent(profile), Role.TECHNICIAN);
        keptAt(page, "/jobs/" + job);
        line.cut();
        page.click("text=Start the work");
        page.waitForSelector("text=Start: Prepare");
        page.fill("#text", "Begun where there is no network.");
        page.click("text=Keep the note");
        page.waitForSelector("text=2 actions wait to be sent");
        Objects.requireNonNull(context).close();

        page = persistent(profile).newPage();
        page.context().clearCookies();
        page.navigate(line.address() + "/jobs/today");
        page.waitForSelector("text=2 actions wait to be sent");
        page.click("main a.plate");
        page.waitForSelector("text=Start: Prepare");
        line.mend();
        online(page);
        page.waitForSelector("text=Sign in to send");
        assertThat(record().startedAt()).isNull();
        signIn(page, Role.TECHNICIAN);
        patiently().untilAsserted(() -> assertThat(record().notes()).hasSize(1));
        assertThat(record().startedAt()).isNotNull();
    }

    @Test
    void whatTheServiceRefusesIsToldAndHoldsBackWhatFollows() {
        as(Role.TECHNICIAN, () -> jobs.start(job, null));
        as(Role.TECHNICIAN, () -> jobs.recordPhase(job, RecordPhase.of(PhaseKind.PREPARE, null, null)));
        var page = signedIn(newContext(), Role.TECHNICIAN);
        keptAt(page, "/jobs/" + job + "/run");
        line.cut();
        page.click("button:has-text(\"Stop the clock\")");
        page.waitForSelector("text=1 action waits to be sent");
        page.fill("#text", "Dry now.");
        page.click("text=Keep the note");
        page.waitForSelector("text=2 actions wait to be sent");
        var phase = record().phases().getFirst().id();
        as(Role.TECHNICIAN, () -> jobs.endPhase(job, phase, EndPhase.NOW));
        line.mend();
        online(page);
        page.waitForSelector("[data-refused]");
        assertThat(page.textContent("[data-outbox]"))
                .contains(
                        "Not taken: Stop the clock",
                        "This phase has ended already",
                        "1 action waits to be sent. What was refused comes first.");
        assertThat(record().notes()).isEmpty();
        page.click("button:has-text(\"Drop it\")");
        page.click("button:has-text(\"Drop it for good\")");
        patiently().untilAsserted(() -> assertThat(record().notes()).hasSize(1));
    }

    @Test
    void signingOutTakesEverythingAlongAndSoDoesAnotherPerson() {
        as(Role.TECHNICIAN, () -> jobs.start(job, null));
        var page = signedIn(newContext(), Role.TECHNICIAN);
        keptAt(page, "/jobs/" + job);
        signIn(page, Role.MANAGER);
        until(page, """
            async () => (await caches.keys()).every((name) => !name.startsWith("kept-"))""", null);
        signIn(page, Role.TECHNICIAN);
        keptAt(page, "/jobs/" + job + "/run");
        line.cut();
        page.fill("#text", "Never to be sent.");
        page.click("text=Keep the note");
        page.waitForSelector("text=1 action waits to be sent");
        var asked = new StringBuilder();
        page.onDialog(dialog -> {
            asked.append(dialog.message());
            dialog.accept();
        });
        line.mend();
        line.loseAnswersToPosts();
        page.evaluate("document.querySelector('form.sign-out').requestSubmit()");
        page.waitForURL(url -> url.endsWith("/sign-out") || url.contains("/sign-in"));
        assertThat(asked.toString()).contains("1 action waits to be sent and will be lost");
        assertThat(page.evaluate("""
            async () => {
              const { actions, present } = await import("/js/kept/store.js");
              const pages = (await caches.keys()).filter((name) => name.startsWith("kept-"));
              return [(await actions()).length, await present(), pages.length];
            }""")).isEqualTo(java.util.Arrays.asList(0, null, 0));
    }

    @Test
    void aDriverWithoutAccountReportsWithoutANetwork() {
        var code = as(Role.MANAGER, () -> cabCodes.make(vehicle)).code();
        var page = newContext().newPage();
        page.navigate(line.address() + "/r/" + code);
        until(page, """
            async (code) => Boolean(navigator.serviceWorker.controller
              && (await (await caches.open("kept-cab")).match("/r/" + code))
              && (await (await caches.open("kept-cab")).match("/r/" + code + "/kept")))""", code);
        var before = reported();
        line.cut();
        page.reload();
        page.fill("#xMm", "-200");
        page.fill("#yMm", "300");
        page.check("input[name=kind][value=star-break]");
        page.fill("#diameterMm", "14");
        page.check("input[name=layers][value=outer]");
        page.click("text=Send the report");
        page.waitForURL(url -> url.endsWith("/kept"));
        page.waitForSelector("text=1 action waits to be sent");
        assertThat(page.textContent("main"))
                .contains("Nobody has judged this damage yet", "The answer follows", "Do not drive while");
        line.mend();
        online(page);
        page.click("text=Its answer");
        page.waitForSelector("text=Your report has arrived");
        assertThat(page.textContent("main")).contains("QV23 KTB", "Star break, 14 mm");
        assertThat(reported()).isEqualTo(before + 1);
    }

    /** The same vectors that the service's own classes are held to. */
    @Test
    void theDeviceWorksOutWhatTheServiceWorksOut() throws IOException {
        var page = newContext().newPage();
        page.navigate(line.address() + "/sign-in");
        try (var file = OfflineBrowserTests.class.getResourceAsStream("/bench/readiness-vectors.json")) {
            var vectors = new String(Objects.requireNonNull(file).readAllBytes(), StandardCharsets.UTF_8);
            var wrong = page.evaluate("""
                async (text) => {
                  const vectors = JSON.parse(text);
                  const bench = await import("/js/kept/readiness.js");
                  const { next, nextPlace, placed } = await import("/js/kept/method.js");
                  const wrong = [];
                  const same = (name, is, expected) => {
                    if (JSON.stringify(is) !== JSON.stringify(expected)) wrong.push(`${name}: ${JSON.stringify(is)}`);
                  };
                  for (const each of vectors.dewPoints) {
                    const is = bench.dewPointCelsius(each.airCelsius, each.relativeHumidityPercent);
                    same(JSON.stringify(each), Math.abs(is - each.dewPointCelsius) < 1e-6, true);
                  }
                  for (const each of vectors.stresses) {
                    same(JSON.stringify(each), Math.abs(bench.stressMpa(each.differenceK) - each.mpa) < 1e-9, true);
                  }
                  for (const each of vectors.readings) {
                    const is = bench.readiness(each, each.limits, vectors, Date.parse(each.at), (ms) => new Date(ms).toISOString());
                    same(each.name, is.outcome, each.outcome);
                    same(each.name, is.objections.map((objection) => objection.code), each.codes);
                    const said = is.objections.map((objection) => `${objection.reason} ${objection.change}`).join(" ");
                    for (const words of each.says) same(`${each.name}, ${said}, ${words}`, said.includes(words), true);
                    if (each.untilTheSunHasGone) {
                      same(each.name, is.objections.at(-1).betterAt, Date.parse(vectors.sun[3].windows[0].to));
                    }
                  }
                  // A day that the kit does not know: no sun is no answer.
                  const open = { airCelsius: 15, glassCelsius: 22, relativeHumidityPercent: 60, glassDry: true, light: "open" };
                  for (const bearingDegrees of [null, 180]) {
                    const known = Date.parse(vectors.sunKnown.to);
                    const is = bench.readiness({ ...open, bearingDegrees }, {}, vectors, known, String);
                    same(`tomorrow, ${bearingDegrees}`, is.objections.map(({ code }) => code), ["sun-unknown"]);
                    const night = bench.readiness({ ...open, bearingDegrees }, {}, vectors, known - 1, String);
                    same(`before midnight, ${bearingDegrees}`, night.outcome, "go");
                    const shade = bench.readiness({ ...open, light: "shade", bearingDegrees }, {}, vectors, known, String);
                    same(`tomorrow in shade, ${bearingDegrees}`, shade.outcome, "go");
                  }
                  for (const each of vectors.cures) {
                    const method = {
                      cureDoseJPerCm2: each.doseJPerCm2,
                      steps: [{ kind: "cure", leastSeconds: each.leastSeconds }],
                    };
                    const lamp = {
                      readingDue: false,
                      readings: [{ irradianceMwPerCm2: each.irradianceMwPerCm2, distanceMm: each.readAtMm }],
                    };
                    same(JSON.stringify(each), bench.cureSeconds(method, lamp, each.distanceMm, "outside"), each.seconds);
                  }
                  const kinds = "prepare open clean mount inject pressure vacuum pit-fill cure finish look-over".split(" ");
                  const generic = {
                    leastCycles: 1,
                    restSeconds: 60,
                    steps: kinds.map((kind) => ({
                      kind,
                      required: kind !== "open",
                      leastSeconds: { cure: 600, pressure: 120, vacuum: 120 }[kind] ?? 0,
                    })),
                  };
                  for (const each of vectors.next) {
                    const done = each.phases.map((phase) => ({
                      ...phase,
                      startedAt: phase.fromSecond * 1000,
                      endedAt: phase.toSecond * 1000,
                    }));
                    same(each.name, next(generic, done), each.next);
                  }
                  for (const each of vectors.twiceCured.next) {
                    const done = [...each.phases.matchAll(/([a-z-]+) (\\d+)-(\\d+)/g)].map(([, kind, from, to]) => ({
                      kind,
                      startedAt: from * 1000,
                      endedAt: to * 1000,
                      requiredSeconds: null,
                    }));
                    same(each.name, placed(vectors.twiceCured, done).map(({ place }) => place), each.places);
                    same(each.name, nextPlace(vectors.twiceCured, done), each.next);
                  }
                  return wrong;
                }""", vectors);
            assertThat((List<?>) wrong).isEmpty();
            assertThat(json.readTree(vectors).path("readings").size()).isGreaterThan(20);
        }
    }

    /** As every page: no wider than the phone, and free of what axe finds. */
    private static void check(Page page) {
        assertThat(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))
                .isEqualTo(0);
        assertThat(new AxeBuilder(page)
                        .withTags(List.of("wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"))
                        .analyze()
                        .getViolations())
                .extracting(finding ->
                        finding.getId() + " " + finding.getNodes().getFirst().getHtml())
                .isEmpty();
    }

    private void conditions(Page page, String glass) {
        if (!page.isVisible("#airCelsius")) {
            page.click("summary:has-text(\"Read them\")");
        }
        page.fill("#airCelsius", "15");
        page.fill("#glassCelsius", glass);
        page.fill("#relativeHumidityPercent", "60");
        page.check("input[name=light][value=shade]");
        page.check("input[name=glassDry]");
        page.click("text=Go, wait or stop?");
        page.waitForSelector("#conditions dd:has-text(\"" + glass + " °C\")");
    }

    /** The page shows itself anew when everything is sent, which may break off a visit that has just begun. */
    private static void go(Page page, String address) {
        try {
            page.navigate(address);
        } catch (PlaywrightException e) {
            if (!String.valueOf(e.getMessage()).contains("ERR_ABORTED")) {
                throw e;
            }
            page.navigate(address);
        }
    }

    private BrowserContext newContext() {
        context = Objects.requireNonNull(browser)
                .newContext(new Browser.NewContextOptions()
                        .setViewportSize(360, 900)
                        .setLocale("en-GB"));
        return context;
    }

    private BrowserContext persistent(Path profile) {
        context = Objects.requireNonNull(playwright)
                .chromium()
                .launchPersistentContext(
                        profile,
                        new BrowserType.LaunchPersistentContextOptions()
                                .setHeadless(true)
                                .setChromiumSandbox(false)
                                .setExecutablePath(chromium)
                                .setViewportSize(360, 900)
                                .setArgs(List.of("--disable-gpu", "--no-first-run")));
        return context;
    }

    private Page signedIn(BrowserContext context, Role role) {
        var page = context.newPage();
        signIn(page, role);
        return page;
    }

    /** Whoever is signed in is signed out by a cookie less, so that the device only learns of it by the next page. */
    private void signIn(Page page, Role role) {
        var email = jdbc.sql("select email from person where id = :id")
                .param("id", own.person(role).person())
                .query(String.class)
                .single();
        page.context().clearCookies();
        page.navigate(line.address() + "/sign-in");
        page.fill("#email", email);
        page.fill("#password", TestOrganisations.PASSWORD);
        page.click("main button");
    }

    /** On this page, with all that the day needs on the device, and nothing that the service has not told back. */
    private void keptAt(Page page, String path) {
        page.navigate(line.address() + path);
        until(page, KEPT, null);
    }

    private static void until(Page page, String holds, @Nullable Object told) {
        var latest = Instant.now().plusSeconds(30);
        while (!holds(page, holds, told)) {
            assertThat(Instant.now()).as(holds).isBefore(latest);
            page.waitForTimeout(100);
        }
    }

    private static boolean holds(Page page, String holds, @Nullable Object told) {
        try {
            return Boolean.TRUE.equals(page.evaluate(holds, told));
        } catch (PlaywrightException e) {
            return false; // the page changed meanwhile
        }
    }

    private static void online(Page page) {
        page.evaluate("window.dispatchEvent(new Event('online'))");
    }

    private static ConditionFactory patiently() {
        return Awaitility.await().atMost(Duration.ofSeconds(30));
    }

    private JobView record() {
        return as(Role.TECHNICIAN, () -> jobs.job(job));
    }

    private long reported() {
        return as(Role.MANAGER, () -> damages.count(DamageFilter.ofVehicle(vehicle)));
    }

    private <T extends @Nullable Object> T as(Role role, java.util.function.Supplier<T> work) {
        return TestOrganisations.as(own, role, work);
    }
}
