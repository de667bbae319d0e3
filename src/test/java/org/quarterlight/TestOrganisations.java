package org.quarterlight;

import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.AddMember;
import org.quarterlight.account.CreateOrganisation;
import org.quarterlight.account.CreateToken;
import org.quarterlight.account.InvitePartner;
import org.quarterlight.account.Organisations;
import org.quarterlight.account.Partners;
import org.quarterlight.account.People;
import org.quarterlight.account.Tokens;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.Memberships;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;

/** Makes organisations for tests through the service's own verbs. */
@Component
public class TestOrganisations {
    public static final String PASSWORD = "a long enough one";

    private final Organisations organisations;
    private final People people;
    private final Tokens tokens;
    private final Partners partners;
    private final Memberships memberships;
    private final JdbcClient jdbc;

    TestOrganisations(
            Organisations organisations,
            People people,
            Tokens tokens,
            Partners partners,
            Memberships memberships,
            JdbcClient jdbc) {
        this.organisations = organisations;
        this.people = people;
        this.tokens = tokens;
        this.partners = partners;
        this.memberships = memberships;
        this.jdbc = jdbc;
    }

    public TestOrganisation fleet() {
        return make(OrganisationKind.FLEET, "GB");
    }

    public TestOrganisation fleet(String country) {
        return make(OrganisationKind.FLEET, country);
    }

    public TestOrganisation repairer() {
        return make(OrganisationKind.REPAIRER, "GB");
    }

    public TestOrganisation platform() {
        return make(OrganisationKind.PLATFORM, "GB");
    }

    /** Lets the repairer work for the fleet. */
    public void join(TestOrganisation fleet, TestOrganisation repairer) {
        var invited =
                as(fleet, Role.ADMINISTRATOR, () -> partners.invite(new InvitePartner(repairer.id(), "by telephone")));
        as(repairer, Role.ADMINISTRATOR, () -> partners.accept(invited.id()));
    }

    /** Does something as one of an organisation's people, as a request of theirs would. */
    public static <T extends @Nullable Object> T as(TestOrganisation organisation, Role role, Supplier<T> work) {
        return as(organisation.person(role), work);
    }

    static <T extends @Nullable Object> T as(Acting acting, Supplier<T> work) {
        var before = SecurityContextHolder.getContext();
        var context = SecurityContextHolder.createEmptyContext();
        context.setAuthentication(new ActingAuthentication(acting));
        SecurityContextHolder.setContext(context);
        try {
            return Tenants.callAs(acting.organisation(), work);
        } finally {
            SecurityContextHolder.setContext(before);
        }
    }

    /** What the person of this role signs in with. */
    public String email(TestOrganisation organisation, Role role) {
        return jdbc.sql("select email from person where id = :id")
                .param("id", organisation.person(role).person())
                .query(String.class)
                .single();
    }

    private TestOrganisation make(OrganisationKind kind, String country) {
        var mark = UUID.randomUUID().toString().substring(24);
        var name = "Test " + kind.name().toLowerCase(Locale.ROOT) + " " + mark;
        var administrator = new AddMember(
                "administrator-" + mark + "@test.invalid", "Administrator", Set.of(Role.ADMINISTRATOR), PASSWORD);
        var made = organisations.found(new CreateOrganisation(kind, name, country, null, administrator));
        people.passwordStays(administrator.email());
        var tenant = new TenantId(made.id());
        Map<Role, Acting> acting = new EnumMap<>(Role.class);
        Map<Role, String> secrets = new EnumMap<>(Role.class);
        var first = jdbc.sql("select id from person where email = :email")
                .param("email", administrator.email())
                .query(UUID.class)
                .single();
        acting.put(Role.ADMINISTRATOR, memberships.acting(first, tenant).orElseThrow());
        for (var role : People.rolesIn(kind)) {
            if (role != Role.ADMINISTRATOR) {
                var word = role.name().toLowerCase(Locale.ROOT);
                var member = as(
                        acting.get(Role.ADMINISTRATOR),
                        () -> people.add(
                                new AddMember(word + "-" + mark + "@test.invalid", word, Set.of(role), PASSWORD)));
                people.passwordStays(member.email());
                acting.put(role, memberships.acting(member.person(), tenant).orElseThrow());
            }
        }
        acting.forEach((role, who) -> secrets.put(
                role,
                as(who, () -> tokens.create(new CreateToken("test", 1, null))).secret()));
        return new TestOrganisation(tenant, kind, name, acting, secrets);
    }
}
