package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.OutputStream;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.UUID;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import javax.sql.DataSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.postgresql.PGConnection;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.springframework.beans.factory.annotation.Autowired;

/**
 * A million random damages judged for their outcomes and in full: that both say the same, how quickly each does on two
 * cores, how that compares with reading the same rows out of the database, and that memory stays flat. The sheets are those of
 * every country that has some, and as many picked at random from all. Run it with
 * {@code mvn test -Dtest=WhatIfBenchmark -Dbenchmark=what-if}; {@code -Dwhat-if.cases=100000} takes fewer.
 */
@QuarterlightTest
@EnabledIfSystemProperty(named = "benchmark", matches = "what-if")
class WhatIfBenchmark {
    private static final int CASES = Integer.getInteger("what-if.cases", 1_000_000);
    private static final int AT_A_TIME = 50_000;
    private static final int CORES = 2;

    @Autowired
    private DataSource database;

    private record OnGlass(int judge, List<DamageFacts> damages) {}

    private record Judges(Glazing glazing, GlassJudge full, OutcomeJudge quick) {}

    @Test
    void outcomesAloneAreThoseOfTheFullJudgementAndQuicker() throws Exception {
        var glazings = new ArrayList<Glazing>();
        for (var category : VehicleCategory.values()) {
            for (var side : SteeringSide.values()) {
                glazings.add(Cases.generic(category, side, category == VehicleCategory.M1 ? 1900 : 7500));
            }
        }
        var random = new Random(20261125);
        var judges = sheets(random).stream()
                .flatMap(sheets -> glazings.stream()
                        .map(glazing -> new Judges(
                                glazing,
                                Eligibility.on(glazing, sheets, Choices.standard()),
                                OutcomeJudge.on(glazing, sheets, Choices.standard()))))
                .toList();
        Function<OnGlass, Map<UUID, Outcome>> quick =
                one -> judges.get(one.judge()).quick().outcomes(one.damages(), Cases.NOW);
        Function<OnGlass, Map<UUID, Outcome>> full =
                one -> outcomes(judges.get(one.judge()).full().judge(one.damages(), Cases.NOW));
        var quickNanos = 0L;
        var fullNanos = 0L;
        var copyNanos = 0L;
        var judged = 0;
        var differing = 0;
        var earlyMegabytes = 0.0;
        try (var pool = Executors.newFixedThreadPool(CORES)) {
            var warm = some(random, judges);
            judge(pool, warm, quick);
            judge(pool, warm, full);
            while (judged < CASES) {
                var some = some(random, judges);
                var begin = System.nanoTime();
                var found = judge(pool, some, quick);
                var between = System.nanoTime();
                var known = judge(pool, some, full);
                fullNanos += System.nanoTime() - between;
                quickNanos += between - begin;
                for (var i = 0; i < some.size(); i++) {
                    differing += found.get(i).equals(known.get(i)) ? 0 : 1;
                    judged += known.get(i).size();
                }
                copyNanos += copied(some);
                if (earlyMegabytes == 0 && judged >= CASES / 10) {
                    earlyMegabytes = usedMegabytes();
                }
            }
        }
        System.out.printf(
                "what-if over %,d damages on %d cores: outcomes alone %.2f s, %,.0f a second; in full %.2f s, %,.0f a"
                        + " second; COPY TO of the same rows %.2f s, so outcomes take %.2f times that; %d differ; heap in use"
                        + " after a collection %.0f MB at a tenth of them, %.0f MB at the end%n",
                judged,
                CORES,
                quickNanos / 1e9,
                judged / (quickNanos / 1e9),
                fullNanos / 1e9,
                judged / (fullNanos / 1e9),
                copyNanos / 1e9,
                (double) quickNanos / copyNanos,
                differing,
                earlyMegabytes,
                usedMegabytes());
        assertThat(differing).isZero();
    }

    private static List<List<Sheet>> sheets(Random random) {
        var sheets = Sheets.shipped().stream()
                .map(Sheet::country)
                .filter(Objects::nonNull)
                .distinct()
                .map(country -> Sheets.startingFor(country, null))
                .collect(Collectors.toCollection(ArrayList::new));
        for (var i = sheets.size(); i > 0; i--) {
            sheets.add(OutcomeJudgeTests.some(random));
        }
        return sheets;
    }

    private static double usedMegabytes() {
        System.gc();
        return ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed() / 1e6;
    }

    private static Map<UUID, Outcome> outcomes(Map<UUID, Verdict> verdicts) {
        var outcomes = new LinkedHashMap<UUID, Outcome>();
        verdicts.forEach((damage, verdict) -> outcomes.put(damage, verdict.outcome()));
        return outcomes;
    }

    private static List<OnGlass> some(Random random, List<Judges> judges) {
        var some = new ArrayList<OnGlass>();
        for (var made = 0; made < AT_A_TIME; ) {
            var judge = random.nextInt(judges.size());
            var damages = OutcomeJudgeTests.onOneGlass(random, judges.get(judge).glazing());
            some.add(new OnGlass(judge, damages));
            made += damages.size();
        }
        return some;
    }

    private static List<Map<UUID, Outcome>> judge(
            ExecutorService pool, List<OnGlass> some, Function<OnGlass, Map<UUID, Outcome>> judge) throws Exception {
        var share = (some.size() + CORES - 1) / CORES;
        var parts = new ArrayList<Future<List<Map<UUID, Outcome>>>>();
        for (var core = 0; core < CORES; core++) {
            var part = some.subList(core * share, Math.min(some.size(), (core + 1) * share));
            parts.add(pool.submit(() -> part.stream().map(judge).toList()));
        }
        var all = new ArrayList<Map<UUID, Outcome>>();
        for (var part : parts) {
            all.addAll(part.get());
        }
        return all;
    }

    /** How long it takes to read these rows out of a table, nanoseconds. */
    private long copied(List<OnGlass> some) throws Exception {
        try (var connection = database.getConnection()) {
            connection.setAutoCommit(false);
            try (var statement = connection.createStatement()) {
                statement.execute("""
                    create temporary table seen (windscreen int, damage uuid, observation uuid, kind text, x_mm numeric,
                        y_mm numeric, diameter_mm numeric, uncertainty_mm numeric, pit_mm numeric, longest_leg_mm numeric,
                        layers text, condition text, found text, seen_on date) on commit drop\
                    """);
            }
            var copy = connection.unwrap(PGConnection.class).getCopyAPI();
            var rows = new StringBuilder();
            IntStream.range(0, some.size())
                    .forEach(i -> some.get(i).damages().forEach(facts -> rows.append(row(i, facts))));
            copy.copyIn(
                    "copy seen from stdin",
                    new ByteArrayInputStream(rows.toString().getBytes(StandardCharsets.UTF_8)));
            var begin = System.nanoTime();
            copy.copyOut("copy seen to stdout", OutputStream.nullOutputStream());
            var nanos = System.nanoTime() - begin;
            connection.rollback();
            return nanos;
        }
    }

    private static String row(int windscreen, DamageFacts facts) {
        return String.join(
                        "\t",
                        Integer.toString(windscreen),
                        facts.damage().toString(),
                        facts.observation().toString(),
                        facts.kind().name(),
                        "%.2f".formatted(facts.shape().xMm()),
                        "%.2f".formatted(facts.shape().yMm()),
                        "%.2f".formatted(facts.overallDiameter().mm()),
                        "%.2f".formatted(facts.overallDiameter().standardUncertaintyMm()),
                        facts.pit() == null
                                ? "\\N"
                                : "%.2f".formatted(facts.pit().mm()),
                        facts.longestLeg() == null
                                ? "\\N"
                                : "%.2f".formatted(facts.longestLeg().mm()),
                        Objects.toString(facts.layers(), "\\N"),
                        Objects.toString(facts.condition(), "\\N"),
                        Objects.toString(facts.found(), "\\N"),
                        facts.seenOn().toString())
                + "\n";
    }
}
