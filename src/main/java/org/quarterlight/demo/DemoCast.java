package org.quarterlight.demo;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.AddMember;
import org.quarterlight.account.CreateOrganisation;
import org.quarterlight.account.InvitePartner;
import org.quarterlight.account.OrganisationView;
import org.quarterlight.account.Organisations;
import org.quarterlight.account.OwnAccess;
import org.quarterlight.account.Partners;
import org.quarterlight.account.People;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.Memberships;
import org.quarterlight.web.SliceRequest;
import org.springframework.context.annotation.Profile;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;

/** The organisations and people of the scenario, and acting as one of them. */
@Component
@Profile("demo")
class DemoCast {
    static final String PASSWORD = "quarterlight-demo";

    private final Organisations organisations;
    private final People people;
    private final Partners partners;
    private final Memberships memberships;
    private final OwnAccess access;
    private final Map<String, OrganisationView> made = new LinkedHashMap<>();
    private final Map<String, UUID> persons = new HashMap<>();

    DemoCast(Organisations organisations, People people, Partners partners, Memberships memberships, OwnAccess access) {
        this.organisations = organisations;
        this.people = people;
        this.partners = partners;
        this.memberships = memberships;
        this.access = access;
    }

    private record Login(
            String email, String name, @Nullable String organisation, Set<Role> roles) {}

    void assemble() {
        var logins = Rows.of("people.csv").stream()
                .map(row -> new Login(
                        row.getField("email"),
                        row.getField("name"),
                        Rows.text(row, "organisation"),
                        Stream.of(row.getField("roles").split(" "))
                                .map(word -> Role.valueOf(word.toUpperCase(Locale.ROOT)))
                                .collect(Collectors.toSet())))
                .toList();
        var operator = logins.stream()
                .filter(login -> login.organisation() == null)
                .findFirst()
                .orElseThrow();
        organisations.found(
                new CreateOrganisation(OrganisationKind.PLATFORM, "Quarterlight", "GB", 8, member(operator)));
        people.passwordStays(operator.email());
        for (var row : Rows.of("organisations.csv")) {
            var key = row.getField("key");
            var own = logins.stream()
                    .filter(login -> key.equals(login.organisation()))
                    .toList();
            var administrator = own.stream()
                    .filter(login -> login.roles().contains(Role.ADMINISTRATOR))
                    .findFirst()
                    .orElseThrow();
            var organisation = organisations.found(new CreateOrganisation(
                    OrganisationKind.valueOf(row.getField("kind").toUpperCase(Locale.ROOT)),
                    row.getField("name"),
                    row.getField("country"),
                    Integer.valueOf(row.getField("pattern")),
                    member(administrator)));
            made.put(key, organisation);
            people.passwordStays(administrator.email());
            var first = Tenants.callAs(tenant(key), () -> people.firstOf(administrator.email()));
            persons.put(administrator.email(), first);
            own.stream()
                    .filter(login -> login != administrator)
                    .forEach(login -> takeIn(login, administrator.email(), key));
        }
        for (var row : Rows.of("organisations.csv")) {
            var repairers = Rows.text(row, "repairers");
            for (var repairer : repairers == null ? new String[0] : repairers.split(" ")) {
                var fleet = row.getField("key");
                var invited = as(
                        administrator(fleet),
                        () -> partners.invite(new InvitePartner(organisation(repairer), row.getField("terms"))));
                as(administrator(repairer), () -> partners.accept(invited.id()));
            }
        }
    }

    /** Somebody who is in another organisation already accepts the second one. */
    private void takeIn(Login login, String administrator, String key) {
        var member = as(administrator, key, () -> people.add(member(login)));
        people.passwordStays(login.email());
        if (persons.put(login.email(), member.person()) != null) {
            var present = memberships.of(member.person()).getFirst();
            as(present, () -> {
                access.accept(organisation(key));
                return true;
            });
        }
    }

    UUID organisation(String key) {
        return Objects.requireNonNull(made.get(key), key).id();
    }

    String country(String key) {
        return Objects.requireNonNull(made.get(key), key).country();
    }

    TenantId tenant(String key) {
        return new TenantId(organisation(key));
    }

    UUID person(String email) {
        return Objects.requireNonNull(persons.get(email), email);
    }

    Acting acting(String email, String organisation) {
        return memberships.acting(person(email), tenant(organisation)).orElseThrow();
    }

    /** Somebody of the organisation with this role. */
    Acting withRole(String organisation, Role role) {
        return Rows.of("people.csv").stream()
                .filter(row -> organisation.equals(Rows.text(row, "organisation")))
                .map(row -> acting(row.getField("email"), organisation))
                .filter(acting -> acting.is(role))
                .findFirst()
                .orElseThrow(() -> new IllegalStateException(organisation + " has no " + role));
    }

    <T extends @Nullable Object> T as(String email, String organisation, Supplier<T> work) {
        return as(acting(email, organisation), work);
    }

    <T extends @Nullable Object> T as(Acting acting, Supplier<T> work) {
        var context = SecurityContextHolder.createEmptyContext();
        context.setAuthentication(new ActingAuthentication(acting));
        SecurityContextHolder.setContext(context);
        try {
            return Tenants.callAs(acting.organisation(), work);
        } finally {
            SecurityContextHolder.clearContext();
        }
    }

    /** The logins in words, one each. */
    static String logins() {
        return Rows.of("people.csv").stream()
                .map(row -> "  %-36s %-24s %s"
                        .formatted(
                                row.getField("email"),
                                row.getField("roles").replace(' ', ','),
                                Objects.requireNonNullElse(Rows.text(row, "organisation"), "platform")))
                .collect(Collectors.joining("\n"));
    }

    private Acting administrator(String key) {
        return withRole(key, Role.ADMINISTRATOR);
    }

    private static AddMember member(Login login) {
        return new AddMember(login.email(), login.name(), login.roles(), PASSWORD);
    }

    static SliceRequest all() {
        return SliceRequest.most();
    }
}
