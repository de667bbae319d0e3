package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.OutputStream;
import java.sql.DriverManager;
import java.util.List;
import java.util.Objects;
import java.util.function.Supplier;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.postgresql.PGConnection;
import org.quarterlight.damage.PreviewSheet;
import org.quarterlight.damage.PreviewState;
import org.quarterlight.damage.PreviewView;
import org.quarterlight.damage.SheetPreviews;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.env.Environment;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/**
 * A sheet tried on a large fleet through the service: rows read, judged by both sides and the outcomes kept. Prints how long
 * that takes beside reading the same rows out with {@code COPY}, and the heap in use after a collection at a tenth of the way
 * and at the end. Run it with {@code mvn test -Dtest=PreviewBenchmark -Dbenchmark=preview};
 * {@code -Dpreview.damages=20000} takes fewer.
 */
@QuarterlightTest
@EnabledIfSystemProperty(named = "benchmark", matches = "preview")
class PreviewBenchmark {
    private static final int DAMAGES = Integer.getInteger("preview.damages", 200_000);

    @Autowired
    private TestBusiness business;

    @Autowired
    private SheetPreviews previews;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private Environment environment;

    @Test
    void triesASheetOnALargeFleetInFlatMemory() throws Exception {
        var lived = business.live(mvc);
        sow(lived);
        var copied = copied(lived.fleet());

        var begun = System.nanoTime();
        var id = manager(lived, () -> previews.start("common-practice-repair", new PreviewSheet(null)))
                .id();
        var early = 0L;
        PreviewView now;
        do {
            Thread.sleep(50);
            now = manager(lived, () -> previews.read(id));
            if (early == 0 && now.done() >= now.total() / 10) {
                early = heap();
            }
        } while (now.state() == PreviewState.RUNNING);
        var seconds = (System.nanoTime() - begun) / 1e9;
        System.out.printf(
                "preview of %,d damages through the service: %.1f s, %,.0f damages a second, each judged twice; COPY TO of"
                        + " the rows it reads %.2f s, so %.1f times that; heap after a collection %,d MiB at a tenth,"
                        + " %,d MiB at the end%n",
                now.judged(), seconds, now.judged() / seconds, copied, seconds / copied, early >> 20, heap() >> 20);
        assertThat(now.state()).isEqualTo(PreviewState.DONE);
        assertThat(now.judged()).isGreaterThanOrEqualTo(DAMAGES);
    }

    private static <T> T manager(TestBusiness.Lived lived, Supplier<T> work) {
        return TestOrganisations.as(lived.fleet(), Role.MANAGER, work);
    }

    private static long heap() {
        System.gc();
        return Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory();
    }

    /** How long it takes to read what a preview reads, seconds. */
    private double copied(TestOrganisation fleet) throws Exception {
        try (var connection = DriverManager.getConnection(url(), DatabaseRoles.OWNER, TestServer.PASSWORD)) {
            var begin = System.nanoTime();
            connection
                    .unwrap(PGConnection.class)
                    .getCopyAPI()
                    .copyOut("""
                    copy (select o.*, g.windscreen_id, g.state, w.pattern_id, v.category from observation o
                        join damage g on g.tenant_id = o.tenant_id and g.id = o.damage_id
                        join windscreen w on w.tenant_id = g.tenant_id and w.id = g.windscreen_id
                        join vehicle v on v.tenant_id = w.tenant_id and v.id = w.vehicle_id
                        where g.tenant_id = '%s') to stdout\
                    """.formatted(fleet.id()), OutputStream.nullOutputStream());
            return (System.nanoTime() - begin) / 1e9;
        }
    }

    private void sow(TestBusiness.Lived lived) {
        var owner = JdbcClient.create(new DriverManagerDataSource(url(), DatabaseRoles.OWNER, TestServer.PASSWORD));
        for (var statement : seeds()) {
            owner.sql(statement
                            .replace(":fleet", "'" + lived.fleet().id() + "'::uuid")
                            .replace(":depot", "'" + lived.depot() + "'::uuid")
                            .replace(":damages", Integer.toString(DAMAGES)))
                    .update();
        }
    }

    /** A damage of every kind, size and place on a vehicle of its own. */
    private static List<String> seeds() {
        return List.of(
                """
            insert into vehicle (tenant_id, id, depot_id, registration, registration_key, category, steering_side, version)
            select :fleet, md5('vehicle' || n)::uuid, :depot, 'P' || n, 'P' || n, 'M1', 'RIGHT', 0
            from generate_series(1, :damages) n\
            """,
                """
            insert into windscreen (tenant_id, id, vehicle_id, pattern_id, pattern_number, made_at)
            select :fleet, md5('glass' || n)::uuid, md5('vehicle' || n)::uuid, w.pattern_id, w.pattern_number, now()
            from generate_series(1, :damages) n,
                 (select pattern_id, pattern_number from windscreen where tenant_id = :fleet limit 1) w\
            """,
                """
            insert into damage (tenant_id, id, vehicle_id, windscreen_id, number, kind, state, occurred_at, arrived_at,
                                reported_by, outcome, rank, act_by, diameter_mm, version)
            select :fleet, md5('damage' || n)::uuid, md5('vehicle' || n)::uuid, md5('glass' || n)::uuid, 1,
                   (array['PIT', 'BULLSEYE', 'HALF_MOON', 'STAR_BREAK', 'COMBINATION_BREAK', 'CRACK'])[1 + n % 6], 'OPEN',
                   now(), now(), 'somebody', 'WATCH', 4, current_date, 10, 0
            from generate_series(1, :damages) n\
            """,
                """
            insert into observation (tenant_id, id, damage_id, kind, x_mm, y_mm, diameter_mm,
                                     diameter_standard_uncertainty_mm, pit_mm, layers, condition, source, seen_at, arrived_at,
                                     seen_by)
            select :fleet, md5('seen' || n)::uuid, md5('damage' || n)::uuid,
                   (array['PIT', 'BULLSEYE', 'HALF_MOON', 'STAR_BREAK', 'COMBINATION_BREAK', 'CRACK'])[1 + n % 6],
                   n * 7919 % 1000 - 500, 80 + n * 104729 % 500, 2 + n * 31 % 45 / 1.3, 0.3, 1 + n % 4, 'OUTER', 'CLEAN_DRY',
                   'GAUGE', now(), now(), 'somebody'
            from generate_series(1, :damages) n\
            """,
                "vacuum analyze vehicle",
                "vacuum analyze windscreen",
                "vacuum analyze damage",
                "vacuum analyze observation");
    }

    private String url() {
        return Objects.requireNonNull(environment.getProperty("spring.datasource.url"));
    }
}
