package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.quarterlight.history.ChainFault;
import org.quarterlight.history.ChainFault.Kind;
import org.quarterlight.history.ChainReport;
import org.quarterlight.history.History;
import org.quarterlight.history.HistoryChain;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.env.Environment;
import org.springframework.http.HttpMethod;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** What somebody with every right in the database does to a history afterwards is found, and named for what it is. */
@QuarterlightTest
class HistoryChainTests {
    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private History history;

    @Autowired
    private HistoryChain chain;

    @Autowired
    private PlatformTransactionManager transactions;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private JdbcClient application;

    @Autowired
    private Environment environment;

    private TestOrganisation fleet;
    private JdbcClient superuser;
    private long before;

    @BeforeEach
    void tenLines() {
        superuser = JdbcClient.create(new DriverManagerDataSource(
                Objects.requireNonNull(environment.getProperty("spring.datasource.url")),
                TestServer.superuser(),
                TestServer.superuserPassword()));
        fleet = organisations.fleet();
        before = checked().lines();
        IntStream.rangeClosed(1, 10).forEach(each -> add("line " + each));
    }

    @Test
    void whatNobodyTouchedIsSoundAndItsNumbersHaveNoGaps() {
        var report = checked();
        assertThat(report.sound()).isTrue();
        assertThat(report.lines()).isEqualTo(before + 10);
        assertThat(superuser
                        .sql("select max(number) = count(*) from history_link where tenant_id = :fleet")
                        .param("fleet", fleet.id())
                        .query(Boolean.class)
                        .single())
                .isTrue();
    }

    @Test
    void textOfAnyKindIsTheSameToTheDatabaseAndToTheService() {
        add("\"quoted\" \\ back / slash\ttab\nline\r end");
        add("Grüße, привет, שלום, مرحبا, 你好, 😀 and a \u2028 line separator, \u007f");
        tamper("insert into history (tenant_id, id, at, who, action, subject, detail) values "
                + "(:fleet, uuidv7(), '2026-01-02 03:04:05+05:30', 'w', 'a', 's', 'control ' || chr(1) || chr(31))");
        assertThat(checked().faults()).isEmpty();
    }

    @Test
    void aChangedLineIsFound() {
        tamper("update history set who = 'somebody else' where tenant_id = :fleet and id = " + line(before + 4));
        assertFound(Kind.CHANGED, before + 4);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "at = at + interval '1 microsecond'",
                "person_id = uuidv7()",
                "subject_id = uuidv7()",
                "detail = detail || ' '",
                "action = 'x'",
                "subject = 'x'"
            })
    void noPartOfALineCanBeChanged(String change) {
        tamper("update history set " + change + " where tenant_id = :fleet and id = " + line(before + 1));
        assertFound(Kind.CHANGED, before + 1);
    }

    @Test
    void aChangedLineWithANewHashDoesNotFitTheNext() {
        tamper("update history set who = 'somebody else' where tenant_id = :fleet and id = " + line(before + 4));
        tamper("update history_link l set hash = history_hash(h, l.number, l.previous) from history h "
                + "where h.tenant_id = l.tenant_id and h.id = l.history_id and l.tenant_id = :fleet and l.number = "
                + (before + 4));
        assertFound(Kind.REORDERED, before + 5);
    }

    @Test
    void aDeletedLineIsFound() {
        tamper("delete from history where tenant_id = :fleet and id = " + line(before + 4));
        assertFound(Kind.DELETED, before + 4);
    }

    @Test
    void aDeletedLineWhoseLinkIsGoneTooIsFound() {
        tamper("delete from history where tenant_id = :fleet and id = " + line(before + 4));
        tamper("delete from history_link where tenant_id = :fleet and number = " + (before + 4));
        assertFound(Kind.DELETED, before + 4);
    }

    @Test
    void aLineThatWasPutInIsFound() {
        tamper("set session_replication_role = replica; insert into history (tenant_id, id, at, who, action, subject) "
                + "values ('" + fleet.id() + "', uuidv7(), now(), 'nobody', 'approved', 'job')");
        assertThat(checked().faults()).extracting(ChainFault::kind).containsExactly(Kind.INSERTED);
    }

    @Test
    void linesInAnotherOrderAreFound() {
        swap("number", before + 4, before + 7);
        assertThat(checked().faults())
                .extracting(ChainFault::kind)
                .contains(Kind.REORDERED)
                .doesNotContain(Kind.DELETED, Kind.INSERTED);
    }

    @Test
    void linesThatChangedTheirPlacesInTheChainAreFound() {
        var four = line(before + 4);
        var seven = line(before + 7);
        tamper("update history_link set history_id = uuidv7() where tenant_id = :fleet and number = " + (before + 4));
        tamper("update history_link set history_id = " + four + " where tenant_id = :fleet and number = "
                + (before + 7));
        tamper("update history_link set history_id = " + seven + " where tenant_id = :fleet and number = "
                + (before + 4));
        assertThat(checked().faults()).extracting(ChainFault::number).containsExactly(before + 4, before + 7);
    }

    @Test
    void whatIsCutOffIsFoundByTheHead() {
        cutOff(before + 8);
        assertFound(Kind.CUT_OFF, before + 9);
    }

    @Test
    void whatIsCutOffCarefullyIsFoundByASignedEnd() {
        var end = seal();
        cutOff(before + 8);
        setHead(before + 8);
        assertFound(Kind.CUT_OFF, end.number());
    }

    @Test
    void whatIsCutOffWithItsSignedEndsIsFoundByAnEndThatIsKeptElsewhere() {
        var end = seal();
        cutOff(before + 8);
        setHead(before + 8);
        tamper("delete from history_seal where tenant_id = :fleet");
        assertThat(checked().sound()).as("no trace is left").isTrue();
        var report = as(() -> chain.checked(end.number(), end.hash().toUpperCase(java.util.Locale.ROOT)));
        assertThat(report.faults()).extracting(ChainFault::kind).containsExactly(Kind.CUT_OFF);
    }

    @Test
    void aHistoryWrittenAnewFromSomewhereIsFoundByASignedEnd() {
        var end = seal();
        tamper("update history set who = 'somebody else' where tenant_id = :fleet and id = " + line(before + 4));
        tamper("""
            do $$ declare l record; before bytea; begin
            select previous into before from history_link where tenant_id = '%1$s' and number = %2$d;
            for l in select number, history_id from history_link where tenant_id = '%1$s' and number >= %2$d order by number loop
                update history_link set previous = before,
                    hash = (select history_hash(h, l.number, before) from history h where h.tenant_id = '%1$s' and h.id = l.history_id)
                where tenant_id = '%1$s' and number = l.number returning hash into before;
            end loop;
            update history_head set hash = before where tenant_id = '%1$s'; end $$\
            """.formatted(fleet.id(), before + 4));
        assertFound(Kind.WRITTEN_ANEW, end.number());
    }

    @Test
    void aForgedSignedEndIsFound() {
        var end = seal();
        tamper("update history_seal set hash = sha256('') where tenant_id = :fleet");
        assertFound(Kind.SEAL_FORGED, end.number());
    }

    @Test
    void theServiceItselfCannotWriteTheChain() {
        for (var statement : List.of(
                "update history_link set hash = hash",
                "delete from history_link",
                "update history_head set number = 0",
                "insert into history_head values (current_tenant(), 1, '')",
                "update history_seal set jws = ''",
                "delete from history",
                "select link_history(h) from history h")) {
            assertThatThrownBy(() -> as(() -> new TransactionTemplate(transactions)
                            .execute(status -> application.sql(statement).update())))
                    .hasStackTraceContaining("permission denied");
        }
    }

    /** Whatever happens at once and is rolled back, the lines that stay are one sound chain. */
    @ParameterizedTest
    @ValueSource(longs = {1, 20261201, 77})
    void randomDeedsAtOnceAreOneSoundChain(long seed) throws Exception {
        var random = new Random(seed);
        List<Callable<Integer>> workers = IntStream.range(0, 4)
                .mapToObj(each -> random.nextLong())
                .map(own -> (Callable<Integer>) () -> deeds(new Random(own)))
                .toList();
        var kept = 0;
        try (var threads = Executors.newFixedThreadPool(4)) {
            for (var each : threads.invokeAll(workers)) {
                kept += each.get();
            }
        }
        var report = checked();
        assertThat(report.faults()).isEmpty();
        assertThat(report.lines()).isEqualTo(before + 10 + kept);
    }

    private int deeds(Random random) {
        var kept = 0;
        for (int deed = 0; deed < 15; deed++) {
            var lines = random.nextInt(4);
            var stays = random.nextInt(4) > 0;
            as(() -> new TransactionTemplate(transactions).execute(status -> {
                for (int line = 0; line < lines; line++) {
                    history.add("did", "thing", random.nextBoolean() ? UUID.randomUUID() : null, text(random));
                }
                if (random.nextInt(5) == 0) {
                    chain.seal();
                }
                if (!stays) {
                    status.setRollbackOnly();
                }
                return true;
            }));
            kept += stays ? lines : 0;
        }
        return kept;
    }

    private static String text(Random random) {
        return random.ints(random.nextInt(30), 1, 0x1F600)
                .filter(point -> point >= ' ' && (point < 0xD800 || point > 0xDFFF) && Character.isDefined(point))
                .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append)
                .toString();
    }

    @Test
    void aHundredThousandLinesAreReadInSecondsAndOneByOne() {
        // In as many transactions as there would be some: one of all versions of a head cannot clear any away.
        for (int part = 0; part < 200; part++) {
            tamper(
                    "insert into history (tenant_id, id, at, who, action, subject, detail) select :fleet, uuidv7(), now(), "
                            + "'Ines Falk', 'changed', 'vehicle', 'QV' || n || ': moved' from generate_series(1, 500) n");
        }
        System.gc();
        var heldBefore = held();
        var start = Instant.now();
        var report = checked();
        var took = Duration.between(start, Instant.now());
        System.out.println("100 000 lines of history read again in " + took.toMillis() + " ms");
        assertThat(report.faults()).isEmpty();
        assertThat(report.lines()).isEqualTo(before + 100_010);
        assertThat(took).isLessThan(Duration.ofSeconds(30));
        System.gc();
        assertThat(held() - heldBefore).isLessThan(30L << 20);
    }

    private static long held() {
        return Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory();
    }

    @Test
    void theCommandReadsAllAndNamesTheOneThatIsNotSound() {
        var sound = organisations.fleet();
        tamper("delete from history where tenant_id = :fleet and id = " + line(before + 4));
        var out = new ByteArrayOutputStream();
        var errors = new ByteArrayOutputStream();
        var code = VerifyHistory.run(
                Map.of(
                        "SPRING_DATASOURCE_URL",
                                Objects.requireNonNull(environment.getProperty("spring.datasource.url")),
                        "SPRING_FLYWAY_USER", DatabaseRoles.OWNER,
                        "SPRING_FLYWAY_PASSWORD", TestServer.PASSWORD),
                new PrintStream(out, true, StandardCharsets.UTF_8),
                new PrintStream(errors, true, StandardCharsets.UTF_8));
        assertThat(code).isEqualTo(1);
        assertThat(out.toString(StandardCharsets.UTF_8)).contains(sound.id() + ": sound");
        assertThat(errors.toString(StandardCharsets.UTF_8))
                .contains(fleet.id() + ": NOT SOUND", "Line " + (before + 4) + " has been deleted");
        assertThat(VerifyHistory.run(Map.of(), new PrintStream(out), new PrintStream(errors)))
                .isEqualTo(2);
    }

    @Test
    void administratorsLookAtTheirOwnAndNobodyElseDoes() {
        assertThatThrownBy(() -> TestOrganisations.as(fleet, Role.MANAGER, () -> chain.checked(null, null)))
                .isInstanceOf(AccessDeniedException.class);
        assertThatThrownBy(() -> as(() -> chain.checked(3L, "abc"))).isInstanceOf(Invalid.class);
        var answer = mvc.method(HttpMethod.POST)
                .uri("/api/v1/history/seals")
                .header("Authorization", fleet.bearer(Role.ADMINISTRATOR))
                .exchange();
        assertThat(answer).hasStatus(201).bodyText().contains(fleet.id().toString(), "\"jws\"");
        assertThat(mvc.get()
                        .uri("/api/v1/history/chain?number=x")
                        .header("Authorization", fleet.bearer(Role.ADMINISTRATOR))
                        .exchange())
                .hasStatus(422);
    }

    private org.quarterlight.history.SealedHead seal() {
        return as(() -> chain.sealNow().orElseThrow());
    }

    private ChainReport checked() {
        return as(() -> chain.checked(null, null));
    }

    private void add(String detail) {
        as(() -> new TransactionTemplate(transactions).execute(status -> {
            history.add("did", "thing", null, detail);
            return true;
        }));
    }

    private void assertFound(Kind kind, long number) {
        var faults = checked().faults();
        assertThat(faults).as(faults.toString()).hasSize(1);
        assertThat(faults.getFirst().kind()).isEqualTo(kind);
        assertThat(faults.getFirst().number()).isEqualTo(number);
    }

    private void cutOff(long last) {
        tamper("delete from history h using history_link l where h.tenant_id = l.tenant_id and h.id = l.history_id "
                + "and l.tenant_id = :fleet and l.number > " + last);
        tamper("delete from history_link where tenant_id = :fleet and number > " + last);
    }

    private void setHead(long number) {
        tamper("update history_head set (number, hash) = (select number, hash from history_link "
                + "where tenant_id = :fleet and number = " + number + ") where tenant_id = :fleet");
    }

    private void swap(String column, long one, long other) {
        for (var step : List.of(one + " to 999999", other + " to " + one, "999999 to " + other)) {
            var places = step.split(" to ");
            tamper("update history_link set " + column + " = " + places[1] + " where tenant_id = :fleet and " + column
                    + " = " + places[0]);
        }
    }

    private String line(long number) {
        return "'"
                + superuser
                        .sql("select history_id from history_link where tenant_id = :fleet and number = :number")
                        .param("fleet", fleet.id())
                        .param("number", number)
                        .query(UUID.class)
                        .single()
                + "'";
    }

    private void tamper(String statement) {
        superuser.sql(statement.replace(":fleet", "'" + fleet.id() + "'")).update();
    }

    private <T> T as(java.util.function.Supplier<T> work) {
        return TestOrganisations.as(fleet, Role.ADMINISTRATOR, work);
    }
}
