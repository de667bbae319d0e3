package org.quarterlight.fleet.list;

import static org.assertj.core.api.Assertions.assertThat;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.SteeringSide;

/** The demo's vehicle lists go through the reader that users have; the rest of the demo has to fit them. */
class DemoVehiclesTests {
    private static final Path DEMO = Path.of("demo-data");
    private static final Reading READING = new Reading(1 << 20, DateOrder.DAY_FIRST, LocalDate.of(2025, 1, 1));

    @Test
    void bothListsAreReadWithoutABadRow() throws IOException {
        var ashmere = list("ashmere");
        assertThat(ashmere.shape().encoding()).isEqualTo(StandardCharsets.UTF_8);
        assertThat(ashmere.shape().passedOver()).isEmpty();
        assertThat(lines(ashmere))
                .hasSize(300)
                .allSatisfy(line -> assertThat(line.steeringSide()).isEqualTo(SteeringSide.RIGHT));

        var lindquell = list("lindquell");
        assertThat(lindquell.shape().encoding()).isEqualTo(Charset.forName("windows-1252"));
        assertThat(lindquell.shape().passedOver()).isEmpty();
        assertThat(lines(lindquell))
                .hasSize(100)
                .allSatisfy(line -> assertThat(line.steeringSide()).isEqualTo(SteeringSide.LEFT));
    }

    @Test
    void everyVehicleStandsAtADepotOfItsFleet() throws IOException {
        for (var fleet : List.of("ashmere", "lindquell")) {
            var depots = rows("depots")
                    .filter(depot -> depot.getField("organisation").equals(fleet))
                    .map(depot -> depot.getField("name"))
                    .toList();
            assertThat(lines(list(fleet))).extracting(VehicleLine::depot).isSubsetOf(depots);
        }
    }

    @Test
    void everyDamageLiesOnTheGlassOfAKnownVehicle() throws IOException {
        var vehicles = vehicles();
        assertThat(rows("damages")).hasSizeGreaterThan(400).allSatisfy(damage -> {
            var line = vehicles.get(
                    damage.getField("organisation") + " " + Registration.keyOf(damage.getField("registration")));
            assertThat(line).isNotNull();
            if (line != null && line.category() != null && line.steeringSide() != null) {
                var glass = GenericGlass.of(line.category()).measurements(line.steeringSide());
                assertThat(Math.abs(number(damage, "x_mm"))).isLessThan(glass.lowerWidthMm() / 2);
                assertThat(number(damage, "y_mm")).isBetween(0.0, glass.heightMm());
            }
        });
    }

    @Test
    void everyJobIsForDamagesOfOneVehicleAndNoneIsInTwoJobsUnlessOneFollows() throws IOException {
        Map<String, String> vehicleOf = rows("damages")
                .collect(Collectors.toMap(
                        damage -> damage.getField("damage"), damage -> damage.getField("registration")));
        var jobs = rows("jobs").toList();
        var taken = new HashSet<String>();
        for (var job : jobs) {
            var damages = List.of(job.getField("damages").split(" ", -1));
            assertThat(vehicleOf).containsKeys(damages.toArray(String[]::new));
            assertThat(damages.stream().map(vehicleOf::get).distinct()).hasSize(1);
            if (job.getField("follows").isEmpty()) {
                damages.forEach(
                        damage -> assertThat(taken.add(damage)).as(damage).isTrue());
            } else {
                assertThat(taken).containsAll(damages);
            }
        }
        assertThat(jobs.stream().map(job -> job.getField("state")))
                .contains(
                        "requested",
                        "approved",
                        "declined",
                        "planned",
                        "under-way",
                        "inspected",
                        "closed",
                        "abandoned");
    }

    @Test
    void whatAnAbandonedJobAsksForByItselfIsAskedForWhenItEnds() throws IOException {
        var jobs = rows("jobs").collect(Collectors.toMap(job -> job.getField("job"), job -> job));
        assertThat(jobs.values().stream()
                        .filter(job -> job.getField("requested_by").equals("itself")))
                .isNotEmpty()
                .allSatisfy(job -> {
                    var before = Objects.requireNonNull(jobs.get(job.getField("follows")));
                    assertThat(moment(job, "requested")).isEqualTo(moment(before, "end"));
                });
    }

    /** A phase begins where the one before it ended, in the time of the fleet's depots. */
    @Test
    void noTechnicianIsAtTwoJobsAtOnce() throws IOException {
        var zones = rows("depots")
                .collect(Collectors.toMap(
                        depot -> depot.getField("organisation"),
                        depot -> ZoneId.of(depot.getField("zone")),
                        (one, other) -> one));
        var zoneOf = rows("damages")
                .collect(Collectors.toMap(
                        damage -> damage.getField("damage"),
                        damage -> Objects.requireNonNull(zones.get(damage.getField("organisation")))));
        var spans = rows("jobs")
                .filter(job -> !job.getField("started_day").isEmpty()
                        && !job.getField("technician").isEmpty()
                        && !job.getField("started_time").startsWith("now"))
                .map(job -> Span.of(
                        job,
                        Objects.requireNonNull(
                                zoneOf.get(job.getField("damages").split(" ")[0]))))
                .sorted(Comparator.comparing(Span::technician).thenComparing(Span::from))
                .toList();
        assertThat(spans).hasSizeGreaterThan(200);
        for (int i = 1; i < spans.size(); i++) {
            var before = spans.get(i - 1);
            var next = spans.get(i);
            if (before.technician().equals(next.technician())) {
                assertThat(next.from())
                        .as("%s begins while %s is at %s", next.job(), next.technician(), before.job())
                        .isAfterOrEqualTo(before.to());
            }
        }
    }

    /** From the start of a job to the end of its last phase. */
    private record Span(String job, String technician, Instant from, Instant to) {
        /** Between pressure and vacuum it rests for a minute. */
        static Span of(NamedCsvRecord job, ZoneId zone) {
            var from = LocalDate.of(2026, 11, 25)
                    .plusDays(Long.parseLong(job.getField("started_day")))
                    .atTime(LocalTime.parse(job.getField("started_time")))
                    .atZone(zone)
                    .toInstant();
            var words = job.getField("phases").split(" ");
            var minutes = 0;
            for (int i = 0; i + 1 < words.length; i += 2) {
                var turns =
                        i > 0 && new HashSet<>(List.of(words[i - 2], words[i])).equals(Set.of("pressure", "vacuum"));
                minutes += Integer.parseInt(words[i + 1]) + (turns ? 1 : 0);
            }
            return new Span(
                    job.getField("job"), job.getField("technician"), from, from.plus(Duration.ofMinutes(minutes)));
        }
    }

    private static String moment(NamedCsvRecord job, String prefix) {
        return job.getField(prefix + "_day") + " " + job.getField(prefix + "_time");
    }

    private static VehicleList list(String fleet) throws IOException {
        return VehicleList.open(ListSource.of(DEMO.resolve("vehicles-" + fleet + ".csv")), READING);
    }

    private static List<VehicleLine> lines(VehicleList list) throws IOException {
        var lines = new ArrayList<VehicleLine>();
        try (var rows = list.rows()) {
            rows.forEach(row -> {
                switch (row) {
                    case Row.Good good -> lines.add(good.line());
                    case Row.Bad bad -> throw new AssertionError("row " + bad.number() + ": " + bad.problems());
                }
            });
        }
        return lines;
    }

    private static Map<String, VehicleLine> vehicles() throws IOException {
        var vehicles = new HashMap<String, VehicleLine>();
        for (var fleet : List.of("ashmere", "lindquell")) {
            lines(list(fleet))
                    .forEach(line ->
                            vehicles.put(fleet + " " + line.registration().key(), line));
        }
        return vehicles;
    }

    private static Stream<NamedCsvRecord> rows(String name) throws IOException {
        try (var records = CsvReader.builder().ofNamedCsvRecord(DEMO.resolve(name + ".csv"))) {
            return records.stream().toList().stream();
        }
    }

    private static double number(NamedCsvRecord row, String field) {
        return Double.parseDouble(row.getField(field));
    }
}
