package org.quarterlight.fleet.list;

import static org.assertj.core.api.Assertions.assertThat;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
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
