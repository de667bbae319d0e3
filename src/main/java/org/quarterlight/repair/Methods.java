package org.quarterlight.repair;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.Method;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;
import tools.jackson.databind.json.JsonMapper;

/** How an organisation repairs, one method a resin system. A generic one is there for everybody. */
@Service
@Validated
public class Methods {
    /** The method that ships; nobody can change it. */
    public static final UUID GENERIC = UUID.fromString("00000000-0000-7000-8000-000000000001");

    private static final MethodView SHIPPED = new MethodView(GENERIC, Method.GENERIC, true, false, 1);
    private static final ListQuery.Order BY_NAME =
            ListQuery.Order.ascending("name", new ListQuery.Key("m.name", "text"), new ListQuery.Key("m.id", "uuid"));

    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final History history;
    private final Clock clock;

    Methods(JdbcClient jdbc, JsonMapper json, History history, Clock clock) {
        this.jdbc = jdbc;
        this.json = json;
        this.history = history;
        this.clock = clock;
    }

    /** The organisation's own in the order of their names, on the first part after the one that ships. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN', 'MANAGER')")
    public Slice<MethodView> list(SliceRequest wanted) {
        var own = new ListQuery("m.id, m.definition, m.retired_at, m.version", "method m")
                .where(
                        "m.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .where("m.retired_at is null")
                .slice(jdbc, BY_NAME, wanted, this::view);
        if (wanted.after() != null) {
            return own;
        }
        var all = new ArrayList<MethodView>(List.of(SHIPPED));
        all.addAll(own.items());
        return new Slice<>(all, own.next());
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN', 'MANAGER')")
    public MethodView method(UUID id) {
        return found(id);
    }

    @Transactional
    @PreAuthorize("hasAnyRole('DISPATCHER', 'MANAGER')")
    public MethodView create(@Valid SaveMethod command) {
        var id = Ids.next(clock.instant());
        write("""
            insert into method (tenant_id, id, name, definition, version)
            values (:organisation, :id, :name, cast(:definition as jsonb), 1) on conflict do nothing\
            """, id, command.method());
        history.add("wrote", "method", id, command.name().trim());
        return found(id);
    }

    @Transactional
    @PreAuthorize("hasAnyRole('DISPATCHER', 'MANAGER')")
    public MethodView change(UUID id, @Valid SaveMethod command, int version) {
        var before = own(id);
        Stale.check("The method", version, before.version());
        if (before.retired()) {
            throw new Invalid("name", "This method is out of use");
        }
        write("""
            update method set name = :name, definition = cast(:definition as jsonb), version = version + 1
            where tenant_id = :organisation and id = :id and not exists (
                select from method o where o.tenant_id = :organisation and o.name = :name and o.id <> :id
                    and o.retired_at is null)\
            """, id, command.method());
        history.add("changed", "method", id, command.name().trim());
        return found(id);
    }

    /** Jobs that were begun by it keep it. */
    @Transactional
    @PreAuthorize("hasAnyRole('DISPATCHER', 'MANAGER')")
    public void retire(UUID id, int version) {
        var method = own(id);
        Stale.check("The method", version, method.version());
        jdbc.sql("""
            update method set retired_at = coalesce(retired_at, :now), version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .update();
        history.add("retired", "method", id, method.method().name());
    }

    /** For a job that begins: the one that is named, or the one that ships. */
    JobMethod chosen(@Nullable UUID id) {
        try {
            var method = found(id == null ? GENERIC : id);
            if (method.retired()) {
                throw new Invalid("method", "This method is out of use");
            }
            return new JobMethod(method.id(), method.version(), method.method());
        } catch (MethodNotFound e) {
            throw new Invalid("method", "There is no such method here");
        }
    }

    private MethodView own(UUID id) {
        if (id.equals(GENERIC)) {
            throw new JobRefused("shipped-method", "This method ships with the service. Write one of your own.");
        }
        Locks.row(jdbc, "method", id);
        return found(id);
    }

    private MethodView found(UUID id) {
        return id.equals(GENERIC)
                ? SHIPPED
                : jdbc.sql("""
                    select m.id, m.definition, m.retired_at, m.version from method m
                    where m.tenant_id = :organisation and m.id = :id\
                    """)
                        .param("organisation", Tenants.require().value())
                        .param("id", id)
                        .query(this::view)
                        .optional()
                        .orElseThrow(() -> new MethodNotFound(id));
    }

    private void write(String sql, UUID id, Method method) {
        int written;
        try {
            written = jdbc.sql(sql)
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .param("name", method.name())
                    .param("definition", json.writeValueAsString(method))
                    .update();
        } catch (DuplicateKeyException e) {
            written = 0; // another was a moment faster
        }
        if (written == 0 || method.name().equals(Method.GENERIC.name())) {
            throw new Invalid("name", "There is a method of this name already");
        }
    }

    private MethodView view(ResultSet row, int number) throws SQLException {
        return new MethodView(
                row.getObject("id", UUID.class),
                json.readValue(row.getString("definition"), Method.class),
                false,
                row.getObject("retired_at") != null,
                row.getInt("version"));
    }
}
