package org.quarterlight.fleet.list;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.InputStream;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.LocalDate;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;

/** Long lists, made row by row so that the test holds none of them. */
class VehicleListSizeTests {
    private static final Reading READING = new Reading(1L << 30, DateOrder.DAY_FIRST, LocalDate.of(2026, 3, 2));

    @Test
    void refusesAMillionRowsWithTheLimitAndReadsNoFurther() {
        var most = new AtomicLong();
        var start = System.nanoTime();
        assertThatThrownBy(() -> VehicleList.open(() -> new Generated(1_000_000, most), READING))
                .isInstanceOf(ListRefused.class)
                .hasMessage("The list has more than 200 000 rows, the most that are read at once."
                        + " Split it and send the parts one by one.");
        assertThat(most.get()).isBetween(200_001L, 205_000L);
        System.out.printf("one million rows refused in %d ms%n", millisSince(start));
    }

    @Test
    void takesAsManyRowsAsTheLimitSays() throws IOException {
        var list = VehicleList.open(() -> new Generated(VehicleList.MAX_ROWS), READING);
        assertThat(list.shape().rows()).isEqualTo(VehicleList.MAX_ROWS);
    }

    @Test
    void readsAHundredThousandRowsAndHoldsNothingButTheirRegistrations() throws IOException {
        var start = System.nanoTime();
        var list = VehicleList.open(() -> new Generated(100_000), READING);
        var opened = millisSince(start);
        var before = usedBytes();
        var most = new AtomicLong();
        var count = new AtomicLong();
        try (var rows = list.rows()) {
            rows.forEach(row -> {
                assertThat(row).isInstanceOf(Row.Good.class);
                if (count.incrementAndGet() % 25_000 == 0) {
                    most.accumulateAndGet(usedBytes(), Math::max);
                }
            });
        }
        var heldMb = (most.get() - before) / 1e6;
        System.out.printf(
                "100 000 rows: looked over in %d ms, read in %d ms, %.1f MB held%n",
                opened, millisSince(start) - opened, heldMb);
        assertThat(count).hasValue(100_000);
        // The rows themselves are some 60 MB as objects; the registrations seen are about 10.
        assertThat(heldMb).isLessThan(30);
    }

    private static long millisSince(long start) {
        return Duration.ofNanos(System.nanoTime() - start).toMillis();
    }

    private static long usedBytes() {
        System.gc();
        return ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed();
    }

    private static final class Generated extends InputStream {
        private final java.util.Iterator<byte[]> lines;
        private byte[] line = "Registration;VIN;Category;Maximum mass kg;Steering side;Depot;First registered;Notes\n"
                .getBytes(StandardCharsets.UTF_8);
        private int at;
        private int rowsRead;
        private final AtomicLong most;

        Generated(int rows) {
            this(rows, new AtomicLong());
        }

        /** Notes the furthest row that was read. */
        Generated(int rows, AtomicLong most) {
            this.most = most;
            lines = LongStream.range(0, rows)
                    .mapToObj(i -> String.format(
                                    java.util.Locale.ROOT,
                                    "QV%06d;ZZZRT40ZZ%08d;N1;3.500;links;Großkirchen;%02d.%02d.2021;\"Zeile %d\n"
                                            + "und noch eine; mit Semikolon\"%n",
                                    i,
                                    i,
                                    i % 28 + 1,
                                    i % 12 + 1,
                                    i)
                            .getBytes(StandardCharsets.UTF_8))
                    .iterator();
        }

        @Override
        public int read() {
            return more() ? line[at++] & 0xff : -1;
        }

        @Override
        public int read(byte[] bytes, int offset, int length) {
            if (!more()) {
                return -1;
            }
            var count = Math.min(length, line.length - at);
            System.arraycopy(line, at, bytes, offset, count);
            at += count;
            return count;
        }

        private boolean more() {
            while (at == line.length && lines.hasNext()) {
                line = lines.next();
                most.accumulateAndGet(++rowsRead, Math::max);
                at = 0;
            }
            return at < line.length;
        }
    }
}
