package org.quarterlight.rulebook;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.kernel.InvalidText.Mistake;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** The rows of an organisation's own sheets. */
@Component
class SheetStore {
    private static final String VERSION = """
        select s.id, s.started_as, v.number, v.state, v.content, v.valid_from, v.applies_from, v.changed_by, v.version
        from own_sheet_version v join own_sheet s on s.tenant_id = v.tenant_id and s.id = v.sheet_id
        where v.tenant_id = :organisation\
        """;

    private final JdbcClient jdbc;
    private final Clock clock;

    /** Published versions never change, so what was read of one stays right. */
    private final Cache<Published, Sheets.Kept> published =
            Caffeine.newBuilder().maximumSize(2_000).build();

    SheetStore(JdbcClient jdbc, Clock clock) {
        this.jdbc = jdbc;
        this.clock = clock;
    }

    private record Published(TenantId organisation, UUID sheet, int number) {}

    /** The id of a sheet of an organisation's own; nothing where it can be none. */
    static Optional<UUID> own(String id) {
        try {
            var own = UUID.fromString(id);
            return own.toString().equals(id) ? Optional.of(own) : Optional.empty();
        } catch (IllegalArgumentException e) {
            return Optional.empty();
        }
    }

    /** All versions of all sheets: by sheet, the newest version first. */
    List<OwnSheet> all() {
        return jdbc.sql(VERSION + " order by s.id, v.number desc")
                .param("organisation", Tenants.require().value())
                .query(this::ownSheet)
                .list();
    }

    /** All versions of one, newest first. */
    List<OwnSheet> versions(UUID sheet) {
        return jdbc.sql(VERSION + " and v.sheet_id = :sheet order by v.number desc")
                .param("organisation", Tenants.require().value())
                .param("sheet", sheet)
                .query(this::ownSheet)
                .list();
    }

    Optional<OwnSheet> version(UUID sheet, int number) {
        return jdbc.sql(VERSION + " and v.sheet_id = :sheet and v.number = :number")
                .param("organisation", Tenants.require().value())
                .param("sheet", sheet)
                .param("number", number)
                .query(this::ownSheet)
                .optional();
    }

    /** The versions that judge now, of those of these sheets that have one. */
    Map<UUID, Sheet> inForce(Collection<UUID> sheets) {
        var all = new HashMap<UUID, Sheet>();
        if (!sheets.isEmpty()) {
            jdbc.sql("""
                select sheet_id, max(number) as number from own_sheet_version
                where tenant_id = :organisation and sheet_id in (:sheets) and applies_from <= :now
                group by sheet_id\
                """)
                    .param("organisation", Tenants.require().value())
                    .param("sheets", sheets)
                    .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                    .query(row -> {
                        var sheet = row.getObject("sheet_id", UUID.class);
                        all.put(sheet, published(sheet, row.getInt("number")));
                    });
        }
        return all;
    }

    private Sheet published(UUID sheet, int number) {
        var key = new Published(Tenants.require(), sheet, number);
        // Remembered here alone: whoever publishes reads the version too, and may yet fail to.
        return published
                .get(key, absent -> kept(version(sheet, number).orElseThrow()))
                .sheet();
    }

    private static Sheets.Kept kept(OwnSheet version) {
        return Sheets.kept(version.id().toString(), version.number(), version.text());
    }

    int count() {
        return jdbc.sql("select count(*) from own_sheet where tenant_id = :organisation")
                .param("organisation", Tenants.require().value())
                .query(Integer.class)
                .single();
    }

    void make(UUID sheet, @Nullable String startedAs, String by) {
        jdbc.sql("""
            insert into own_sheet (tenant_id, id, started_as, made_at, made_by)
            values (:organisation, :sheet, :startedAs, :now, :by)\
            """)
                .param("organisation", Tenants.require().value())
                .param("sheet", sheet)
                .param("startedAs", startedAs)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("by", by)
                .update();
    }

    void draft(UUID sheet, int number, String text, String by) {
        jdbc.sql("""
            insert into own_sheet_version (tenant_id, sheet_id, number, state, content, changed_at, changed_by, version)
            values (:organisation, :sheet, :number, 'DRAFT', :text, :now, :by, 0)\
            """)
                .param("organisation", Tenants.require().value())
                .param("sheet", sheet)
                .param("number", number)
                .param("text", text)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("by", by)
                .update();
    }

    /** Whether the draft was still at this version. */
    boolean change(OwnSheet draft, String text, String by) {
        return jdbc.sql("""
            update own_sheet_version set content = :text, changed_at = :now, changed_by = :by, version = version + 1
            where tenant_id = :organisation and sheet_id = :sheet and number = :number and state = 'DRAFT'
                and version = :version\
            """)
                        .param("text", text)
                        .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                        .param("by", by)
                        .param("organisation", Tenants.require().value())
                        .param("sheet", draft.id())
                        .param("number", draft.number())
                        .param("version", draft.version())
                        .update()
                == 1;
    }

    /** The draft, and the sheet where it was its only version. Whether the draft was still at this version. */
    boolean delete(OwnSheet draft) {
        var done = jdbc.sql("""
            delete from own_sheet_version
            where tenant_id = :organisation and sheet_id = :sheet and number = :number and state = 'DRAFT'
                and version = :version\
            """)
                        .param("organisation", Tenants.require().value())
                        .param("sheet", draft.id())
                        .param("number", draft.number())
                        .param("version", draft.version())
                        .update()
                == 1;
        jdbc.sql("""
            delete from own_sheet s where s.tenant_id = :organisation and s.id = :sheet and not exists (
                select from own_sheet_version v where v.tenant_id = s.tenant_id and v.sheet_id = s.id)\
            """)
                .param("organisation", Tenants.require().value())
                .param("sheet", draft.id())
                .update();
        return done;
    }

    /** Whether the draft was still at this version. */
    boolean publish(OwnSheet draft, String text, LocalDate from, Instant appliesFrom, String by) {
        var done = jdbc.sql("""
            update own_sheet_version set state = 'PUBLISHED', content = :text, valid_from = :from,
                applies_from = :applies, changed_at = :now, changed_by = :by, version = version + 1
            where tenant_id = :organisation and sheet_id = :sheet and number = :number and state = 'DRAFT'
                and version = :version\
            """)
                        .param("text", text)
                        .param("from", from)
                        .param("applies", appliesFrom.atOffset(ZoneOffset.UTC))
                        .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                        .param("by", by)
                        .param("organisation", Tenants.require().value())
                        .param("sheet", draft.id())
                        .param("number", draft.number())
                        .param("version", draft.version())
                        .update()
                == 1;
        if (done) {
            jdbc.sql("""
                insert into own_sheet_start (tenant_id, sheet_id, number, applies_from)
                values (:organisation, :sheet, :number, :applies)\
                """)
                    .param("organisation", Tenants.require().value())
                    .param("sheet", draft.id())
                    .param("number", draft.number())
                    .param("applies", appliesFrom.atOffset(ZoneOffset.UTC))
                    .update();
        }
        return done;
    }

    /** The sheets of which a version has begun to judge and nobody was told; asked once, they are told. */
    List<UUID> begun() {
        return jdbc.sql("""
            delete from own_sheet_start where tenant_id = :organisation and applies_from <= :now returning sheet_id\
            """)
                .param("organisation", Tenants.require().value())
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .query((row, at) -> row.getObject("sheet_id", UUID.class))
                .list();
    }

    /** The organisations for which such a version waits. */
    List<TenantId> waiting() {
        return jdbc.sql("select organisations_with_sheets_starting(:now) as organisation")
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .query((row, at) -> new TenantId(row.getObject("organisation", UUID.class)))
                .list();
    }

    private OwnSheet ownSheet(ResultSet row, int at) throws SQLException {
        var id = row.getObject("id", UUID.class);
        var number = row.getInt("number");
        var state = SheetState.valueOf(row.getString("state"));
        var text = row.getString("content");
        var applies = row.getObject("applies_from", OffsetDateTime.class);
        var known =
                state == SheetState.DRAFT ? null : published.getIfPresent(new Published(Tenants.require(), id, number));
        var kept = known != null ? known : Sheets.kept(id.toString(), number, text);
        return new OwnSheet(
                id,
                number,
                state,
                row.getString("started_as"),
                kept.sheet(),
                text,
                row.getObject("valid_from", LocalDate.class),
                applies == null ? null : applies.toInstant(),
                row.getString("changed_by"),
                row.getInt("version"),
                kept.problems().stream()
                        .map(problem -> new Mistake(problem.field(), problem.line(), problem.message()))
                        .toList());
    }
}
