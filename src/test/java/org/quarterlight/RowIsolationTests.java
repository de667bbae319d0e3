package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.env.Environment;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** What one organisation's connection can do to the rows of another: nothing, in any table there is. */
@QuarterlightTest
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class RowIsolationTests {
    private static final String REFUSED_BY_POLICY = "violates row-level security policy";
    private static final String NO_RIGHT = "permission denied";

    @Autowired
    private TestBusiness business;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private JdbcClient application;

    @Autowired
    private PlatformTransactionManager transactions;

    @Autowired
    private Environment environment;

    private JdbcClient owner = JdbcClient.create(new DriverManagerDataSource());
    private UUID fleet = UUID.randomUUID();
    private UUID repairer = UUID.randomUUID();
    private UUID stranger = UUID.randomUUID();
    private UUID otherRepairer = UUID.randomUUID();

    @BeforeAll
    void makeRows() {
        owner = JdbcClient.create(new DriverManagerDataSource(
                Objects.requireNonNull(environment.getProperty("spring.datasource.url")),
                DatabaseRoles.OWNER,
                TestServer.PASSWORD));
        var lived = business.lived(mvc);
        fleet = lived.fleet().id();
        repairer = lived.repairer().id();
        stranger = organisations.fleet().id();
        otherRepairer = organisations.repairer().id();
    }

    /** The service takes it away as soon as it is through with the fleet. */
    @BeforeEach
    void somethingIsLeftToCatchUpWith() {
        owner.sql("insert into growth_catch_up (tenant_id, followed_to) values (:fleet, :last) on conflict do nothing")
                .param("fleet", fleet)
                .param("last", new UUID(-1, -1))
                .update();
    }

    static Stream<String> isolated() {
        return TenantIsolationTests.isolated();
    }

    static Stream<String> ofTwoOrganisations() {
        return TenantIsolationTests.ofTwoOrganisations();
    }

    @ParameterizedTest
    @MethodSource("isolated")
    void everyTableHasRowsToTryOn(String table) {
        assertThat(rows(table))
                .as("%s has no row; add a deed that makes one to TestBusiness", table)
                .isPositive();
    }

    @ParameterizedTest
    @MethodSource("isolated")
    void anotherOrganisationReadsNone(String table) {
        for (var other : List.of(stranger, otherRepairer)) {
            assertThat(countAs(other, table)).as("as %s", other).isZero();
        }
        assertThat(countAs(null, table)).as("as nobody").isZero();
    }

    @ParameterizedTest
    @MethodSource("isolated")
    void anotherOrganisationChangesAndDeletesNone(String table) {
        for (var other : List.of(stranger, otherRepairer)) {
            assertThat(touchedAs(other, "update " + table + " set " + firstChangeable(table) + of(table)))
                    .isZero();
            assertThat(touchedAs(other, "delete from " + table + of(table))).isZero();
        }
        assertThat(touchedAs(null, "update " + table + " set " + firstChangeable(table)))
                .isZero();
        assertThat(touchedAs(null, "delete from " + table)).isZero();
    }

    /** The very row that is there: for its owners it is only there already, for others it is against the policy. */
    @ParameterizedTest
    @MethodSource("isolated")
    void anotherOrganisationAddsNone(String table) {
        var row = owner.sql("select to_jsonb(r)::text from " + table + " r" + of(table) + " limit 1")
                .query(String.class)
                .single();
        var columns = String.join(", ", columns(table));
        var insert = "insert into " + table + " (" + columns + ") select " + columns
                + " from jsonb_populate_record(null::" + table + ", cast(:row as jsonb))";
        for (var other : Stream.of(stranger, otherRepairer, null).toList()) {
            assertThatThrownBy(() -> as(
                            other,
                            () -> application.sql(insert).param("row", row).update()))
                    .as("as %s", other)
                    .satisfies(RowIsolationTests::refused);
        }
        assertThat(Stream.of(fleet, repairer))
                .anySatisfy(party -> assertThatThrownBy(() -> as(
                                party,
                                () -> application.sql(insert).param("row", row).update()))
                        .satisfies(failure -> assertThat(message(failure)).containsAnyOf("duplicate key", NO_RIGHT)));
    }

    private static void refused(Throwable failure) {
        assertThat(message(failure)).containsAnyOf(REFUSED_BY_POLICY, NO_RIGHT);
    }

    private static String message(Throwable failure) {
        return Objects.requireNonNull(
                ((DataAccessException) failure).getMostSpecificCause().getMessage());
    }

    @ParameterizedTest
    @MethodSource("isolated")
    void nobodyGivesTheirRowsAway(String table) {
        for (var party : List.of(fleet, repairer)) {
            var gift = "update " + table + " set tenant_id = '" + stranger + "'" + of(table);
            if (countAs(party, table) > 0) {
                assertThatThrownBy(() -> as(party, () -> application.sql(gift).update()))
                        .satisfies(failure -> assertThat(Objects.requireNonNull(((DataAccessException) failure)
                                        .getMostSpecificCause()
                                        .getMessage()))
                                .containsAnyOf(REFUSED_BY_POLICY, NO_RIGHT));
            }
        }
    }

    @Test
    void someTablesAreOfTwoOrganisations() {
        assertThat(ofTwoOrganisations()).contains("job", "partner");
    }

    @ParameterizedTest
    @MethodSource("ofTwoOrganisations")
    void bothPartiesReadWhatIsOfBoth(String table) {
        assertThat(countAs(fleet, table)).isPositive();
        assertThat(countAs(repairer, table)).isPositive();
    }

    @ParameterizedTest
    @MethodSource("ofTwoOrganisations")
    void thePerformerCannotChangeTheParties(String table) {
        for (var party : List.of("tenant_id = '" + repairer + "'", "performer_id = '" + otherRepairer + "'")) {
            assertThatThrownBy(() -> as(
                            repairer,
                            () -> application
                                    .sql("update " + table + " set " + party)
                                    .update()))
                    .satisfies(failure -> assertThat(Objects.requireNonNull(((DataAccessException) failure)
                                    .getMostSpecificCause()
                                    .getMessage()))
                            .containsAnyOf(REFUSED_BY_POLICY, NO_RIGHT));
        }
    }

    @Test
    void whatAJobIsAboutIsFixed() {
        for (var column : List.of("brief", "number", "vehicle_id", "windscreen_id", "id")) {
            for (var party : List.of(fleet, repairer)) {
                assertThatThrownBy(() -> as(
                                party,
                                () -> application
                                        .sql("update job set " + column + " = " + column)
                                        .update()))
                        .hasStackTraceContaining(NO_RIGHT);
            }
        }
    }

    private long rows(String table) {
        return owner.sql("select count(*) from " + table + of(table))
                .query(Long.class)
                .single();
    }

    /** Where the rows are the fleet's or its repairer's. */
    private String of(String table) {
        return " where tenant_id in ('" + fleet + "', '" + repairer + "')";
    }

    private long countAs(@Nullable UUID organisation, String table) {
        return as(
                organisation,
                () -> application
                        .sql("select count(*) from " + table + of(table))
                        .query(Long.class)
                        .single());
    }

    /** How many rows a statement touched; none where the right for it is missing. */
    private int touchedAs(@Nullable UUID organisation, String statement) {
        try {
            return as(organisation, () -> application.sql(statement).update());
        } catch (DataAccessException e) {
            assertThat(e).hasStackTraceContaining(NO_RIGHT);
            return 0;
        }
    }

    private String firstChangeable(String table) {
        return owner.sql("""
            select a.attname || ' = ' || a.attname from pg_attribute a
            where a.attrelid = to_regclass(:table) and a.attnum > 0 and a.attgenerated = ''
            order by has_column_privilege('quarterlight_app', a.attrelid, a.attnum, 'update') desc, a.attnum
            limit 1\
            """).param("table", table).query(String.class).single();
    }

    private List<String> columns(String table) {
        List<String> columns = owner.sql("""
            select attname from pg_attribute
            where attrelid = to_regclass(:table) and attnum > 0 and attgenerated = ''
              and not attisdropped\
            """)
                .param("table", table)
                .query((row, number) -> row.getString("attname"))
                .list();
        return columns;
    }

    private <T> T as(@Nullable UUID organisation, java.util.function.Supplier<T> work) {
        java.util.function.Supplier<T> transaction = () -> new TransactionTemplate(transactions).execute(status -> {
            status.setRollbackOnly();
            return work.get();
        });
        return organisation == null ? transaction.get() : Tenants.callAs(new TenantId(organisation), transaction);
    }
}
