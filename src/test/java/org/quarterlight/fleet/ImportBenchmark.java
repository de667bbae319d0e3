package org.quarterlight.fleet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.lang.management.MemoryType;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;

/**
 * How long 100 000 rows take, and how much memory beyond what the service holds anyway. Run it with
 * {@code mvn test -Dtest=ImportBenchmark -Dbenchmark=import}.
 */
@QuarterlightTest
@EnabledIfSystemProperty(named = "benchmark", matches = "import")
class ImportBenchmark {
    private static final int ROWS = 100_000;

    @Autowired
    private VehicleImports imports;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private TestFleets fleets;

    @Test
    void takesAHundredThousandRows() {
        var organisation = organisations.fleet();
        for (int i = 0; i < 20; i++) {
            fleets.depot(organisation, "Depot " + i);
        }
        var list = list(ROWS).getBytes(StandardCharsets.UTF_8);

        var preview = measured(organisation, ImportMode.PREVIEW, list);
        assertThat(preview.added()).isEqualTo(ROWS);
        var first = measured(organisation, ImportMode.GOOD_ROWS, list);
        assertThat(first.added()).isEqualTo(ROWS);
        var second = measured(organisation, ImportMode.GOOD_ROWS, list);
        assertThat(second.same()).isEqualTo(ROWS);
        var third = measured(organisation, ImportMode.ALL_OR_NOTHING, list);
        assertThat(third.same()).isEqualTo(ROWS);
    }

    private ImportView measured(TestOrganisation organisation, ImportMode mode, byte[] list) {
        System.gc();
        ManagementFactory.getMemoryPoolMXBeans().forEach(pool -> pool.resetPeakUsage());
        var before = heap();
        var begin = System.nanoTime();
        var id = TestOrganisations.as(organisation, Role.MANAGER, () -> start(mode, list));
        var ended = await().atMost(Duration.ofMinutes(5))
                .pollInterval(Duration.ofMillis(100))
                .until(
                        () -> TestOrganisations.as(organisation, Role.MANAGER, () -> imports.read(id)),
                        made -> made.state().ended());
        var seconds = (System.nanoTime() - begin) / 1e9;
        System.gc();
        System.out.printf(
                "import of %,d rows (%,d kB), %s: %.1f s, %.0f rows/s; peak of the pools %,d MB, live after %+,d MB%n",
                ROWS, list.length / 1000, mode, seconds, ROWS / seconds, peak() >> 20, (heap() - before) >> 20);
        return ended;
    }

    private UUID start(ImportMode mode, byte[] list) {
        try {
            return imports.take(mode, ImportDefaults.none(), "list.csv", new ByteArrayInputStream(list))
                    .id();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static long heap() {
        return ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed();
    }

    private static long peak() {
        return ManagementFactory.getMemoryPoolMXBeans().stream()
                .filter(pool -> pool.getType() == MemoryType.HEAP)
                .mapToLong(pool -> pool.getPeakUsage().getUsed())
                .sum();
    }

    private static String list(int rows) {
        var list = new StringBuilder(
                "Registration,VIN,Category,Max mass kg,Steering side,Depot,Fleet no,Make,Model,Notes\n");
        for (int i = 0; i < rows; i++) {
            list.append("QV%06d,1M8GDM9A%09d,N1,3500,right,Depot %d,%d,Tesmer,Bote 28,in use since the spring%n"
                    .formatted(i, i, i % 20, i));
        }
        return list.toString();
    }
}
