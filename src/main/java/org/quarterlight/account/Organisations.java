package org.quarterlight.account;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.util.UUID;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Founding;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Memberships;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** The organisations themselves: made by the operator, named and marked by their administrators. */
@Service
@Validated
public class Organisations {
    private static final int PATTERNS = 8;
    private static final ListQuery.Order BY_NAME =
            ListQuery.Order.ascending("name", new ListQuery.Key("o.name", "text"), new ListQuery.Key("o.id", "uuid"));

    private final OrganisationRepository organisations;
    private final Memberships memberships;
    private final People people;
    private final History history;
    private final JdbcClient jdbc;
    private final Founding founding;
    private final Clock clock;

    Organisations(
            OrganisationRepository organisations,
            Memberships memberships,
            People people,
            History history,
            JdbcClient jdbc,
            Founding founding,
            Clock clock) {
        this.organisations = organisations;
        this.memberships = memberships;
        this.people = people;
        this.history = history;
        this.jdbc = jdbc;
        this.founding = founding;
        this.clock = clock;
    }

    /** The organisation that the present request acts for. */
    @Transactional(readOnly = true)
    public OrganisationView present() {
        return find(Tenants.require().value()).view();
    }

    @Transactional
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public OrganisationView change(@Valid ChangeOrganisation command, int version) {
        var organisation = find(Tenants.require().value());
        var before = organisation.view();
        var name = command.name() == null ? before.name() : command.name().trim();
        organisation.rename(name, command.pattern() == null ? before.pattern() : command.pattern(), version);
        history.add("changed", "organisation", before.id(), name);
        return organisations.saveAndFlush(organisation).view();
    }

    /** Acts for another of one's organisations from now on, and after the next sign-in. */
    @Transactional
    @PreAuthorize("isAuthenticated() and !hasRole('CAB_CODE')")
    public Acting switchTo(UUID organisation) {
        var person = Acting.require().person();
        if (person == null) {
            throw new OrganisationNotFound(organisation);
        }
        var acting = memberships
                .acting(person, new TenantId(organisation))
                .orElseThrow(() -> new OrganisationNotFound(organisation));
        jdbc.sql("update person set last_tenant_id = :organisation where id = :person")
                .param("organisation", organisation)
                .param("person", person)
                .update();
        return acting;
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('OPERATOR')")
    public Slice<OrganisationView> list(SliceRequest wanted) {
        return new ListQuery("o.id, o.kind, o.name, o.country, o.pattern, o.created_at, o.version", "organisation o")
                .slice(jdbc, BY_NAME, wanted, Organisations::view);
    }

    @Transactional
    @PreAuthorize("hasRole('OPERATOR')")
    public OrganisationView create(@Valid CreateOrganisation command) {
        return found(command);
    }

    /**
     * Makes an organisation and lets its first administrator in, without asking who does it: the operator's verb, and the
     * first of an installation, stand before it. Where the administrator cannot be let in, no organisation is left.
     */
    @Transactional
    public OrganisationView found(@Valid CreateOrganisation command) {
        if (command.kind() != OrganisationKind.PLATFORM
                && !command.administrator().roles().contains(Role.ADMINISTRATOR)) {
            throw new Invalid("administrator.roles", "The first one in is an administrator");
        }
        var now = clock.instant();
        var made = organisations.saveAndFlush(new Organisation(
                Ids.next(now),
                command.kind(),
                command.name().trim(),
                command.country(),
                command.pattern() == null ? (int) (organisations.count() % PATTERNS) + 1 : command.pattern(),
                now));
        try {
            founding.callAs(made.tenant(), () -> people.takeIn(command.administrator()));
        } catch (Invalid e) {
            throw new Invalid("administrator." + e.field(), e.problem());
        }
        return made.view();
    }

    /** Whether this installation has any organisation yet. */
    @Transactional(readOnly = true)
    public boolean any() {
        return organisations.count() > 0;
    }

    /** Whether the service is well, for whoever runs it. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('OPERATOR')")
    public ServiceHealth health() {
        return jdbc.sql("""
            select version() as database, count(*) as waiting, count(*) filter (where status = 'FAILED') as failed
            from event_publication\
            """)
                .query((row, number) ->
                        new ServiceHealth(row.getString("database"), row.getLong("waiting"), row.getLong("failed")))
                .single();
    }

    private Organisation find(UUID id) {
        return organisations.findById(id).orElseThrow(() -> new OrganisationNotFound(id));
    }

    private static OrganisationView view(ResultSet row, int number) throws SQLException {
        return new OrganisationView(
                row.getObject("id", UUID.class),
                OrganisationKind.valueOf(row.getString("kind")),
                row.getString("name"),
                row.getString("country"),
                row.getInt("pattern"),
                row.getObject("created_at", OffsetDateTime.class).toInstant(),
                row.getInt("version"));
    }
}
