package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.Objects;
import java.util.function.Supplier;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.quarterlight.inspection.InspectionPlans;
import org.quarterlight.inspection.SavePlan;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.env.Environment;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/**
 * A plan for a large fleet: made, changed so that every day moves, changed so that none does, and retired. Prints how long
 * each takes. Run it with {@code mvn test -Dtest=PlanBenchmark -Dbenchmark=plan}; {@code -Dplan.vehicles=20000} takes fewer.
 */
@QuarterlightTest
@EnabledIfSystemProperty(named = "benchmark", matches = "plan")
class PlanBenchmark {
    private static final int VEHICLES = Integer.getInteger("plan.vehicles", 300_000);

    @Autowired
    private TestBusiness business;

    @Autowired
    private InspectionPlans plans;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private Environment environment;

    @Test
    void plansALargeFleet() {
        var lived = business.live(mvc);
        var owner = JdbcClient.create(new DriverManagerDataSource(
                Objects.requireNonNull(environment.getProperty("spring.datasource.url")),
                DatabaseRoles.OWNER,
                TestServer.PASSWORD));
        owner.sql("""
            insert into vehicle (tenant_id, id, depot_id, registration, registration_key, category, steering_side, version)
            select '%s', uuidv7(), '%s', 'P' || n, 'P' || n, 'M1', 'RIGHT', 0 from generate_series(1, %d) n\
            """.formatted(lived.fleet().id(), lived.depot(), VEHICLES)).update();
        owner.sql("vacuum analyze vehicle").update();
        var day = LocalDate.now().plusDays(30);
        var made = timed("made", lived, () -> plans.create(plan(day)));
        assertThat(waiting(owner, lived, made.id().toString())).isGreaterThanOrEqualTo(VEHICLES);
        timed("moved", lived, () -> plans.change(made.id(), plan(day.plusDays(70)), 0));
        timed("renamed", lived, () -> plans.change(made.id(), plan(day.plusDays(70)), 1));
        timed("retired", lived, () -> {
            plans.retire(made.id(), 2);
            return true;
        });
        assertThat(waiting(owner, lived, made.id().toString())).isZero();
    }

    private static int waiting(JdbcClient owner, TestBusiness.Lived lived, String plan) {
        return owner.sql("select count(*) from inspection where tenant_id = '%s' and plan_id = '%s' and done_at is null"
                        .formatted(lived.fleet().id(), plan))
                .query(Integer.class)
                .single();
    }

    private static SavePlan plan(LocalDate firstDue) {
        return new SavePlan("All", null, null, 90, null, firstDue, null);
    }

    private static <T> T timed(String what, TestBusiness.Lived lived, Supplier<T> work) {
        var begun = System.nanoTime();
        var done = TestOrganisations.as(lived.fleet(), Role.MANAGER, work);
        System.out.printf("a plan for %,d vehicles %s: %.1f s%n", VEHICLES, what, (System.nanoTime() - begun) / 1e9);
        return done;
    }
}
