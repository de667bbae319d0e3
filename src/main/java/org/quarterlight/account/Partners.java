package org.quarterlight.account;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** Which repairers work for which fleets, seen from both sides. */
@Service
@Validated
public class Partners {
    private static final ListQuery.Order NEWEST_FIRST =
            ListQuery.Order.descending("newest", new ListQuery.Key("p.id", "uuid"));

    private final PartnerRepository partners;
    private final OrganisationRepository organisations;
    private final History history;
    private final ApplicationEventPublisher events;
    private final JdbcClient jdbc;
    private final Clock clock;

    Partners(
            PartnerRepository partners,
            OrganisationRepository organisations,
            History history,
            ApplicationEventPublisher events,
            JdbcClient jdbc,
            Clock clock) {
        this.partners = partners;
        this.organisations = organisations;
        this.history = history;
        this.events = events;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** The agreements of the present organisation, in one state where it is given. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'MANAGER', 'DISPATCHER')")
    public Slice<PartnerView> list(@Nullable PartnerState state, SliceRequest wanted) {
        var organisation = present();
        var side = organisation.kind() == OrganisationKind.REPAIRER ? "p.performer_id" : "p.tenant_id";
        return new ListQuery("""
            p.id, p.tenant_id, p.fleet_name, p.performer_id, p.repairer_name, p.state, p.terms,
            p.created_at, p.version\
            """, "partner p")
                .where(
                        side + " = :organisation",
                        "organisation",
                        organisation.view().id())
                .whereGiven("p.state = :state", "state", state == null ? null : state.name())
                .slice(jdbc, NEWEST_FIRST, wanted, Partners::view);
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'MANAGER', 'DISPATCHER')")
    public PartnerView partner(UUID id) {
        return find(id).view();
    }

    /** Offers work to a repairer. One that was invited already stays so, or goes on working. */
    @Transactional
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public PartnerView invite(@Valid InvitePartner command) {
        var fleet = present();
        if (fleet.kind() != OrganisationKind.FLEET) {
            throw new Invalid("repairer", "A fleet invites its repairers");
        }
        var repairer = organisations
                .findById(command.repairer())
                .filter(found -> found.kind() == OrganisationKind.REPAIRER)
                .orElseThrow(() -> new Invalid("repairer", "There is no repairer with this number"));
        var terms = command.terms() == null || command.terms().isBlank()
                ? null
                : command.terms().trim();
        var known = partners.findByTenantIdAndPerformerId(
                fleet.view().id(), repairer.view().id());
        if (known.isPresent()) {
            var partner = known.get();
            return partner.inviteAgain(terms) ? saved(partner, "invited") : partner.view();
        }
        var now = clock.instant();
        return saved(
                new Partner(Ids.next(now), fleet.view(), repairer.view(), Objects.requireNonNullElse(terms, ""), now),
                "invited");
    }

    /** The repairer says yes. Saying so twice changes nothing. */
    @Transactional
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public PartnerView accept(UUID id) {
        var partner = find(id);
        if (!partner.repairer().equals(Tenants.require().value())) {
            throw new Invalid("partner", "The repairer accepts");
        }
        return partner.accept() ? saved(partner, "accepted") : partner.view();
    }

    @Transactional
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public PartnerView changeTerms(UUID id, String terms, int version) {
        var partner = find(id);
        if (!partner.fleet().equals(Tenants.require().value())) {
            throw new Invalid("terms", "The fleet words the terms");
        }
        partner.changeTerms(terms.trim(), version);
        return saved(partner, "changed the terms of");
    }

    /** Either side ends it. What was not begun goes back to the fleet; what was closed stays in both records. */
    @Transactional
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public PartnerView withdraw(UUID id) {
        var partner = find(id);
        if (!partner.end()) {
            return partner.view();
        }
        var view = saved(partner, "ended");
        events.publishEvent(new PartnerEnded(new TenantId(view.fleet()), view.repairer(), view.repairerName()));
        return view;
    }

    private PartnerView saved(Partner partner, String action) {
        var view = partners.saveAndFlush(partner).view();
        var ours = view.fleet().equals(Tenants.require().value());
        history.add(action, "partner", view.id(), ours ? view.repairerName() : view.fleetName());
        return view;
    }

    private Partner find(UUID id) {
        return partners.findBySide(Tenants.require().value(), id).orElseThrow(() -> new PartnerNotFound(id));
    }

    private Organisation present() {
        var id = Tenants.require().value();
        return organisations.findById(id).orElseThrow(() -> new OrganisationNotFound(id));
    }

    private static PartnerView view(ResultSet row, int number) throws SQLException {
        return new PartnerView(
                row.getObject("id", UUID.class),
                row.getObject("tenant_id", UUID.class),
                row.getString("fleet_name"),
                row.getObject("performer_id", UUID.class),
                row.getString("repairer_name"),
                PartnerState.valueOf(row.getString("state")),
                row.getString("terms"),
                row.getObject("created_at", OffsetDateTime.class).toInstant(),
                row.getInt("version"));
    }
}
