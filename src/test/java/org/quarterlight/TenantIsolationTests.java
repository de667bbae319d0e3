package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;

/** Every table there is, found in the catalogue, so that one added later is held to the same rules or fails here. */
class TenantIsolationTests {
    /** Read by the modules account and proof, the sign-in and the outbox only. A new name here needs a reason. */
    static final Set<String> NOBODYS = Set.of(
            "organisation",
            "person",
            "membership",
            "spring_session",
            "spring_session_attributes",
            "sign_in_attempt",
            "event_publication",
            // Signs for every organisation; its private half is encrypted.
            "signing_key",
            "flyway_schema_history");

    private static final JdbcClient CATALOGUE = JdbcClient.create(
            new DriverManagerDataSource(TestServer.newDatabase(), DatabaseRoles.OWNER, TestServer.PASSWORD));

    static Stream<String> isolated() {
        List<String> tables = CATALOGUE
                .sql("""
                    select relname from pg_class
                    where relnamespace = 'public'::regnamespace and relkind in ('r', 'p', 'm', 'f', 'v')
                    order by relname\
                    """)
                .query((row, number) -> row.getString("relname"))
                .list();
        return tables.stream().filter(table -> !NOBODYS.contains(table));
    }

    static Stream<String> ofTwoOrganisations() {
        return isolated()
                .filter(table -> CATALOGUE
                        .sql("""
                            select exists (select from pg_attribute
                            where attrelid = to_regclass(:table) and attname = 'performer_id')\
                            """)
                        .param("table", table)
                        .query(Boolean.class)
                        .single());
    }

    @Test
    void nobodysTablesAreAllThere() {
        assertThat(NOBODYS)
                .allSatisfy(table -> assertThat(CATALOGUE
                                .sql("select to_regclass(:table)::text")
                                .param("table", table)
                                .query(String.class)
                                .optional())
                        .isPresent());
        assertThat(isolated()).hasSizeGreaterThan(20);
    }

    @ParameterizedTest
    @MethodSource("isolated")
    void rowPoliciesAreOnAndForcedForOwnerAndApplication(String table) {
        assertThat(CATALOGUE.sql("""
            select relkind = 'r' and relrowsecurity and relforcerowsecurity
            from pg_class where oid = to_regclass(:table)\
            """).param("table", table).query(Boolean.class).single())
                .isTrue();
        var roles = CATALOGUE.sql("""
            select distinct unnest(roles)::text from pg_policies
            where schemaname = 'public' and tablename = :table\
            """).param("table", table).query(String.class).list();
        assertThat(roles).containsExactlyInAnyOrder(DatabaseRoles.APPLICATION, DatabaseRoles.OWNER);
    }

    @ParameterizedTest
    @MethodSource("isolated")
    void theOrganisationComesFirstInThePrimaryKeyAndIsNeverNull(String table) {
        assertThat(CATALOGUE.sql("""
            select a.attname || ' ' || a.attnotnull || ' ' || a.atttypid::regtype
            from pg_index i join pg_attribute a on a.attrelid = i.indrelid and a.attnum = i.indkey[0]
            where i.indrelid = to_regclass(:table) and i.indisprimary\
            """).param("table", table).query(String.class).optional())
                .contains("tenant_id true uuid");
    }

    /** A unique key without the organisation would tell one organisation what another has. */
    @ParameterizedTest
    @MethodSource("isolated")
    void everyIndexBeginsWithAnOrganisation(String table) {
        var begins =
                CATALOGUE.sql("""
                    select i.indexrelid::regclass || ' (' || coalesce(a.attname, 'an expression') || ')'
                    from pg_index i left join pg_attribute a on a.attrelid = i.indrelid and a.attnum = i.indkey[0]
                    where i.indrelid = to_regclass(:table)\
                    """).param("table", table).query(String.class).list();
        assertThat(begins).allMatch(index -> index.endsWith("(tenant_id)") || index.endsWith("(performer_id)"));
    }

    /** Foreign keys are checked past the row policies, so an id alone could point at another organisation's row. */
    @ParameterizedTest
    @MethodSource("isolated")
    void everyForeignKeyCarriesTheOrganisation(String table) {
        record Key(String name, String target, String[] from, String[] to) {}
        List<Key> keys = CATALOGUE
                .sql("""
                    select c.conname as name, c.confrelid::regclass::text as target,
                           (select array_agg(a.attname::text order by k.place)
                            from unnest(c.conkey) with ordinality k (number, place)
                            join pg_attribute a on a.attrelid = c.conrelid and a.attnum = k.number) as "from",
                           (select array_agg(a.attname::text order by k.place)
                            from unnest(c.confkey) with ordinality k (number, place)
                            join pg_attribute a on a.attrelid = c.confrelid and a.attnum = k.number) as "to"
                    from pg_constraint c where c.contype = 'f' and c.conrelid = to_regclass(:table)\
                    """)
                .param("table", table)
                .query((row, number) -> new Key(
                        row.getString("name"),
                        row.getString("target"),
                        (String[]) row.getArray("from").getArray(),
                        (String[]) row.getArray("to").getArray()))
                .list();
        assertThat(keys).allSatisfy(key -> {
            // organisation and membership are nobody's; membership's own key begins with the organisation too.
            if (key.target().equals("organisation")) {
                assertThat(key.from()[0]).as(key.name()).isIn("tenant_id", "performer_id");
            } else {
                assertThat(key.from()[0]).as(key.name()).isEqualTo("tenant_id");
                assertThat(key.to()[0]).as(key.name()).isIn("tenant_id", "performer_id");
            }
        });
    }
}
