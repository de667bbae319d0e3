package org.quarterlight.account;

import jakarta.validation.Valid;
import java.time.Clock;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** The people of the present organisation and what they may do in it. */
@Service
@Validated
public class People {
    private static final Set<Role> OF_FLEETS =
            Set.of(Role.DRIVER, Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN, Role.ADMINISTRATOR);
    private static final Set<Role> OF_REPAIRERS = Set.of(Role.DISPATCHER, Role.TECHNICIAN, Role.ADMINISTRATOR);
    private static final Set<Role> OF_THE_PLATFORM = Set.of(Role.OPERATOR, Role.ADMINISTRATOR);
    /** Not yet there by their own doing: asked to join, or still with a password that somebody else gave. */
    private static final String INVITED = "(m.invited or p.password_is_first)";

    private static final ListQuery.Order BY_NAME = ListQuery.Order.ascending(
            "name",
            new ListQuery.Key("case when " + INVITED + " then p.email else p.name end", "text"),
            new ListQuery.Key("p.id", "uuid"));

    private final JdbcClient jdbc;
    private final PersonRepository persons;
    private final OrganisationRepository organisations;
    private final Passwords passwords;
    private final History history;
    private final Clock clock;

    People(
            JdbcClient jdbc,
            PersonRepository persons,
            OrganisationRepository organisations,
            Passwords passwords,
            History history,
            Clock clock) {
        this.jdbc = jdbc;
        this.persons = persons;
        this.organisations = organisations;
        this.passwords = passwords;
        this.history = history;
        this.clock = clock;
    }

    /** The roles that a kind of organisation has work for. */
    public static Set<Role> rolesIn(OrganisationKind kind) {
        return switch (kind) {
            case FLEET -> OF_FLEETS;
            case REPAIRER -> OF_REPAIRERS;
            case PLATFORM -> OF_THE_PLATFORM;
        };
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public Slice<Member> list(SliceRequest wanted) {
        return members().slice(jdbc, BY_NAME, wanted, People::member);
    }

    /** Those who may be given jobs. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'MANAGER', 'ADMINISTRATOR', 'TECHNICIAN')")
    public Slice<Member> technicians(SliceRequest wanted) {
        return members()
                .where("'TECHNICIAN' = any (m.roles)")
                .where("not " + INVITED)
                .slice(jdbc, BY_NAME, wanted, People::member);
    }

    @Transactional(readOnly = true)
    @PreAuthorize("isAuthenticated() and !hasRole('CAB_CODE')")
    public Member member(UUID person) {
        return find(person);
    }

    /** Somebody of the organisation who repairs; empty for anybody else. */
    @Transactional(readOnly = true)
    @PreAuthorize("isAuthenticated() and !hasRole('CAB_CODE')")
    public Optional<Member> technician(UUID person) {
        return found(person).filter(member -> member.roles().contains(Role.TECHNICIAN));
    }

    private Member find(UUID person) {
        return found(person).orElseThrow(() -> new PersonNotFound(person));
    }

    private Optional<Member> found(UUID person) {
        return members()
                .where("m.person_id = :person", "person", person)
                .slice(jdbc, BY_NAME, SliceRequest.first(), People::member)
                .items()
                .stream()
                .findFirst();
    }

    /** The person with this e-mail in the organisation just founded, for whoever founded it. */
    @Transactional(readOnly = true)
    public UUID firstOf(String email) {
        return persons.findByEmail(email.toLowerCase(Locale.ROOT))
                .map(Person::getId)
                .map(this::find)
                .map(Member::person)
                .orElseThrow(() -> new PersonNotFound(new UUID(0, 0)));
    }

    /** Whether this installation knows anybody yet. */
    @Transactional(readOnly = true)
    public boolean any() {
        return jdbc.sql("select exists (select from person)")
                .query(Boolean.class)
                .single();
    }

    /** Takes somebody in: a new person with a first password, or one that has a login already. */
    @Transactional
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public Member add(@Valid AddMember command) {
        return takeIn(command);
    }

    /**
     * Somebody let go comes back to the row that kept their name. Who counts as a member elsewhere is asked for consent
     * first; whoever adds them learns no more of them than they knew. Asks no role: also the way in of an organisation's
     * first administrator.
     */
    Member takeIn(AddMember command) {
        checkRoles(command.roles());
        var email = command.email().trim().toLowerCase(Locale.ROOT);
        // Asked for and hashed for everybody, so that neither answer nor time tells who is known.
        var password = command.password();
        if (password == null || password.isBlank()) {
            throw new Invalid("password", "Somebody new needs a first password");
        }
        var hash = passwords.hash("password", password);
        var known = persons.findByEmail(email);
        var person = known.orElseGet(() -> newPerson(email, command.name().trim(), hash));
        var added = jdbc.sql("""
            insert into membership (tenant_id, person_id, roles, version, invited)
            values (:organisation, :person, :roles, 0, exists (
                select from membership m where m.person_id = :person and not m.invited and cardinality(m.roles) > 0))
            on conflict (tenant_id, person_id) do update
                set roles = excluded.roles, version = membership.version + 1, invited = excluded.invited
                where cardinality(membership.roles) = 0\
            """)
                .param("organisation", Tenants.require().value())
                .param("person", person.getId())
                .param("roles", names(command.roles()))
                .update();
        if (added == 0) {
            throw new Invalid("email", "Somebody with this e-mail is in the organisation already");
        }
        var member = find(person.getId());
        history.add("took in", "member", person.getId(), member.name());
        return member;
    }

    /** For who sets up an installation and chose the password of this login: it need not be changed. Asks no role. */
    @Transactional
    public void passwordStays(String email) {
        jdbc.sql("update person set password_is_first = false where email = :email")
                .param("email", email.toLowerCase(Locale.ROOT))
                .update();
    }

    @Transactional
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public Member changeRoles(UUID person, Set<Role> roles, int version) {
        checkRoles(roles);
        var before = lockedMember(person);
        Stale.check(before.name(), version, before.version());
        if (before.roles().contains(Role.ADMINISTRATOR) && !roles.contains(Role.ADMINISTRATOR)) {
            keepAnAdministrator(person);
        }
        jdbc.sql("""
            update membership set roles = :roles, version = version + 1
            where tenant_id = :organisation and person_id = :person\
            """)
                .param("roles", names(roles))
                .param("organisation", Tenants.require().value())
                .param("person", person)
                .update();
        history.add("changed the roles of", "member", person, String.join(", ", names(roles)));
        return find(person);
    }

    /** Lets somebody go. Their keys end with it; what they did keeps their name. */
    @Transactional
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public void remove(UUID person, int version) {
        var before = lockedMember(person);
        Stale.check(before.name(), version, before.version());
        if (before.roles().contains(Role.ADMINISTRATOR)) {
            keepAnAdministrator(person);
        }
        jdbc.sql("""
            update membership set roles = '{}', version = version + 1
            where tenant_id = :organisation and person_id = :person\
            """)
                .param("organisation", Tenants.require().value())
                .param("person", person)
                .update();
        jdbc.sql("""
            update token set revoked_at = coalesce(revoked_at, :now)
            where tenant_id = :organisation and person_id = :person\
            """)
                .param("now", clock.instant().atOffset(java.time.ZoneOffset.UTC))
                .param("organisation", Tenants.require().value())
                .param("person", person)
                .update();
        history.add("let go", "member", person, before.name());
    }

    private ListQuery members() {
        return new ListQuery(
                        "p.id, case when " + INVITED + " then p.email else p.name end as name, p.email, m.roles, "
                                + INVITED + " as invited, m.version",
                        "membership m join person p on p.id = m.person_id")
                .where(
                        "m.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .where("cardinality(m.roles) > 0");
    }

    private static Member member(java.sql.ResultSet row, int number) throws java.sql.SQLException {
        return new Member(
                row.getObject("id", UUID.class),
                row.getString("name"),
                row.getString("email"),
                MembershipRows.roles(row),
                row.getBoolean("invited"),
                row.getInt("version"));
    }

    /** All administrators stay locked until the end, so two of them cannot remove each other at once. */
    private void keepAnAdministrator(UUID leaving) {
        var others = jdbc.sql("""
            select person_id from membership
            where tenant_id = :organisation and 'ADMINISTRATOR' = any (roles) order by person_id for update\
            """)
                .param("organisation", Tenants.require().value())
                .query(UUID.class)
                .list();
        if (others.stream().allMatch(leaving::equals)) {
            throw new LastAdministrator();
        }
    }

    private Member lockedMember(UUID person) {
        jdbc.sql("select from membership where tenant_id = :organisation and person_id = :person for update")
                .param("organisation", Tenants.require().value())
                .param("person", person)
                .query((row, number) -> true)
                .optional();
        return find(person);
    }

    private void checkRoles(Set<Role> roles) {
        var id = Tenants.require().value();
        var kind = organisations
                .findById(id)
                .orElseThrow(() -> new OrganisationNotFound(id))
                .kind();
        if (roles.isEmpty()) {
            throw new Invalid("roles", "Choose at least one role");
        }
        if (!rolesIn(kind).containsAll(roles)) {
            throw new Invalid("roles", "This organisation has no work for one of these roles");
        }
    }

    private Person newPerson(String email, String name, String hash) {
        var now = clock.instant();
        return persons.saveAndFlush(new Person(Ids.next(now), email, name, hash, now));
    }

    private static String[] names(Set<Role> roles) {
        return roles.stream().map(Role::name).sorted().toArray(String[]::new);
    }
}
