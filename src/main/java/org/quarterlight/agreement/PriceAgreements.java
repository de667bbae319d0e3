package org.quarterlight.agreement;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.PartnerState;
import org.quarterlight.account.PartnerView;
import org.quarterlight.account.Partners;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Money;
import org.quarterlight.kernel.Reason;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** What work costs by agreement, in versions that one side proposes and the other accepts; they are never changed. */
@Service
@Validated
public class PriceAgreements {
    private static final ListQuery.Order LAST_FIRST = ListQuery.Order.descending(
            "last", new ListQuery.Key("a.valid_from", "date"), new ListQuery.Key("a.id", "uuid"));

    /** Who may speak for their side is asked further in, for a fleet's dispatchers may not. */
    private static final String BOTH = "hasAnyRole('ADMINISTRATOR', 'MANAGER', 'DISPATCHER')";

    private static final UUID NOBODY = new UUID(0, 0);

    private final Partners partners;
    private final Today today;
    private final History history;
    private final JdbcClient jdbc;
    private final Clock clock;

    PriceAgreements(Partners partners, Today today, History history, JdbcClient jdbc, Clock clock) {
        this.partners = partners;
        this.today = today;
        this.history = history;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** All that were proposed, those of the last day first. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'MANAGER', 'DISPATCHER')")
    public Slice<PricesView> list(UUID partner, SliceRequest wanted) {
        var found = partners.partner(partner);
        return of(found).slice(jdbc, LAST_FIRST, wanted, PriceAgreements::view);
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'MANAGER', 'DISPATCHER')")
    public PricesView prices(UUID partner, UUID id) {
        return read(partners.partner(partner), id);
    }

    /** What waits for the present organisation's answer, at most as many as a page shows; the first proposed first. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'MANAGER', 'DISPATCHER')")
    public List<WaitingPrices> waiting() {
        var acting = Acting.require();
        if (!acting.isAny(Role.ADMINISTRATOR, side(acting))) {
            return List.of();
        }
        var fleet = acting.kind() == OrganisationKind.FLEET;
        return jdbc.sql("select p.id, a.id as prices, o.name, a.valid_from from price_agreement a"
                        + " join partner p on p.tenant_id = a.tenant_id and p.performer_id = a.performer_id"
                        + " join organisation o on o.id = a.proposed_by_id"
                        + " where a." + (fleet ? "tenant_id" : "performer_id") + " = :organisation"
                        + " and a.answer is null and a.proposed_by_id <> :organisation and p.state = 'ACTIVE'"
                        + " order by a.id limit " + SliceRequest.most().limit())
                .param("organisation", acting.organisation().value())
                .query((row, number) -> new WaitingPrices(
                        row.getObject("id", UUID.class),
                        row.getObject("prices", UUID.class),
                        row.getString("name"),
                        row.getObject("valid_from", LocalDate.class)))
                .list();
    }

    /**
     * Either side proposes prices; they hold once the other has accepted. From tomorrow at the earliest, so that nobody's work
     * is paid differently than it was when it began; the first ones may reach back, where none held before.
     */
    @Transactional
    @PreAuthorize(BOTH)
    public PricesView propose(UUID partner, @Valid SavePrices command) {
        var found = open(partner);
        var currency = Money.currency("currency", command.currency());
        if (!command.validFrom().isAfter(today.here()) && accepted(found)) {
            throw new Invalid("validFrom", "Other prices hold until tonight: choose a day to come");
        }
        var now = clock.instant();
        var id = Ids.next(now);
        jdbc.sql("""
            insert into price_agreement (tenant_id, performer_id, id, valid_from, currency, repair_minor, further_minor,
                call_out_minor, replacement_minor, warranty_months, made_at, made_by, proposed_by_id)
            values (:fleet, :repairer, :id, :from, :currency, :repair, :further, :callOut, :replacement, :warranty, :now, :by,
                :organisation)\
            """)
                .param("fleet", found.fleet())
                .param("repairer", found.repairer())
                .param("id", id)
                .param("from", command.validFrom())
                .param("currency", currency.getCurrencyCode())
                .param("repair", command.repairMinor())
                .param("further", command.furtherMinor())
                .param("callOut", command.callOutMinor())
                .param("replacement", command.replacementMinor())
                .param("warranty", command.warrantyMonths())
                .param("now", now.atOffset(ZoneOffset.UTC))
                .param("by", Acting.require().name())
                .param("organisation", Tenants.require().value())
                .update();
        tell("proposed prices to", found, command.validFrom(), "");
        return read(found, id);
    }

    /** The side that did not propose them agrees. They hold from their day on. */
    @Transactional
    @PreAuthorize(BOTH)
    public PricesView accept(UUID partner, UUID id) {
        var found = open(partner);
        var prices = unanswered(found, id);
        if (prices.proposedByUs()) {
            throw new Invalid("prices", "You proposed these: the other side accepts them");
        }
        if (!prices.validFrom().isAfter(today.here()) && accepted(found)) {
            throw new Invalid(
                    "prices", "Their first day has come and other prices hold until tonight: propose a later day");
        }
        return answer(found, id, PricesState.ACCEPTED, null);
    }

    /** The side that did not propose them says no, with a reason. */
    @Transactional
    @PreAuthorize(BOTH)
    public PricesView decline(UUID partner, UUID id, String reason) {
        var found = open(partner);
        if (unanswered(found, id).proposedByUs()) {
            throw new Invalid("prices", "You proposed these: take them back instead");
        }
        return answer(found, id, PricesState.DECLINED, Reason.given(reason));
    }

    /** The side that proposed them takes them back, as long as they are not answered. */
    @Transactional
    @PreAuthorize(BOTH)
    public PricesView withdraw(UUID partner, UUID id) {
        var found = open(partner);
        if (!unanswered(found, id).proposedByUs()) {
            throw new Invalid("prices", "The other side proposed these: accept or decline them");
        }
        return answer(found, id, PricesState.WITHDRAWN, null);
    }

    /** Those that hold on a day; of two from the same day those accepted later. Asks nobody's right. */
    @Transactional(readOnly = true)
    public Optional<Prices> inForce(UUID fleet, UUID performer, LocalDate day) {
        return jdbc.sql("""
            select a.* from price_agreement a
            where a.tenant_id = :fleet and a.performer_id = :performer and a.valid_from <= :day and a.answer = 'ACCEPTED'
            order by a.valid_from desc, coalesce(a.answered_at, a.made_at) desc, a.id desc limit 1\
            """)
                .param("fleet", fleet)
                .param("performer", performer)
                .param("day", day)
                .query((row, number) -> prices(row))
                .optional();
    }

    /** The same of every repairer with whom a fleet has some, by repairer. */
    @Transactional(readOnly = true)
    public Map<UUID, Prices> inForce(UUID fleet, LocalDate day) {
        return jdbc.sql("""
            select distinct on (a.performer_id) a.* from price_agreement a
            where a.tenant_id = :fleet and a.valid_from <= :day and a.answer = 'ACCEPTED'
            order by a.performer_id, a.valid_from desc, coalesce(a.answered_at, a.made_at) desc, a.id desc\
            """).param("fleet", fleet).param("day", day).query(rows -> {
            var found = new HashMap<UUID, Prices>();
            while (rows.next()) {
                found.put(rows.getObject("performer_id", UUID.class), prices(rows));
            }
            return found;
        });
    }

    private static Prices prices(ResultSet row) throws SQLException {
        return new Prices(
                row.getObject("id", UUID.class),
                row.getString("currency"),
                row.getLong("repair_minor"),
                row.getLong("further_minor"),
                row.getLong("call_out_minor"),
                row.getObject("replacement_minor", Long.class),
                row.getObject("warranty_months", Integer.class));
    }

    /** The partnership under its lock, of somebody who may speak for their side while it lasts. */
    private PartnerView open(UUID partner) {
        var acting = Acting.require();
        if (!acting.isAny(Role.ADMINISTRATOR, side(acting))) {
            throw new AccessDeniedException("Prices are for a fleet's managers and a repairer's dispatchers");
        }
        jdbc.sql("""
            select from partner where (tenant_id = :organisation or performer_id = :organisation) and id = :id for update\
            """)
                .param("organisation", acting.organisation().value())
                .param("id", partner)
                .query((row, number) -> true)
                .optional();
        var found = partners.partner(partner);
        if (found.state() == PartnerState.ENDED) {
            throw new Invalid("partner", "This agreement has ended");
        }
        return found;
    }

    /** Who speaks for the organisation besides its administrators. */
    private static Role side(Acting acting) {
        return acting.kind() == OrganisationKind.FLEET ? Role.MANAGER : Role.DISPATCHER;
    }

    private PricesView unanswered(PartnerView partner, UUID id) {
        var prices = read(partner, id);
        if (prices.state() != PricesState.WAITING) {
            throw new PricesAnswered(
                    switch (prices.state()) {
                        case ACCEPTED -> "These prices were accepted already";
                        case DECLINED -> "These prices were declined already";
                        case WITHDRAWN -> "These prices were taken back";
                        case WAITING -> throw new IllegalStateException();
                    });
        }
        return prices;
    }

    private PricesView answer(PartnerView partner, UUID id, PricesState answer, @Nullable String reason) {
        jdbc.sql("""
            update price_agreement set answer = :answer, answered_at = :now, answered_by = :by, answer_reason = :reason
            where tenant_id = :fleet and performer_id = :repairer and id = :id\
            """)
                .param("answer", answer.name())
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("by", Acting.require().name())
                .param("reason", reason)
                .param("fleet", partner.fleet())
                .param("repairer", partner.repairer())
                .param("id", id)
                .update();
        var prices = read(partner, id);
        tell(
                switch (answer) {
                    case ACCEPTED -> "accepted prices of";
                    case DECLINED -> "declined prices of";
                    case WITHDRAWN -> "took back prices from";
                    case WAITING -> throw new IllegalStateException();
                },
                partner,
                prices.validFrom(),
                reason == null ? "" : ": " + reason);
        return prices;
    }

    private void tell(String action, PartnerView partner, LocalDate from, String more) {
        var ours = partner.fleet().equals(Tenants.require().value());
        history.add(
                action,
                "partner",
                partner.id(),
                (ours ? partner.repairerName() : partner.fleetName()) + ", from " + from + more);
    }

    private boolean accepted(PartnerView partner) {
        return of(partner).where("a.answer = 'ACCEPTED'").count(jdbc) > 0;
    }

    private PricesView read(PartnerView partner, UUID id) {
        return of(partner)
                .where("a.id = :id", "id", id)
                .slice(jdbc, LAST_FIRST, SliceRequest.first(), PriceAgreements::view)
                .items()
                .stream()
                .findFirst()
                .orElseThrow(() -> new PricesNotFound(id));
    }

    private ListQuery of(PartnerView partner) {
        var organisation = Tenants.require().value();
        var side = partner.fleet().equals(organisation) ? "a.tenant_id" : "a.performer_id";
        var other = partner.fleet().equals(organisation) ? "a.performer_id" : "a.tenant_id";
        return new ListQuery("""
            a.*, a.proposed_by_id = :organisation as ours, a.id = :inForce as in_force, a.answer = 'ACCEPTED' and exists (
                select from price_agreement l
                where l.tenant_id = a.tenant_id and l.performer_id = a.performer_id and l.valid_from = a.valid_from
                    and l.answer = 'ACCEPTED'
                    and (coalesce(l.answered_at, l.made_at), l.id) > (coalesce(a.answered_at, a.made_at), a.id)) as overtaken\
            """, "price_agreement a")
                .where(side + " = :organisation", "organisation", organisation)
                .where(
                        other + " = :other",
                        "other",
                        partner.fleet().equals(organisation) ? partner.repairer() : partner.fleet())
                .parameter(
                        "inForce",
                        inForce(partner.fleet(), partner.repairer(), today.here())
                                .map(Prices::agreement)
                                .orElse(NOBODY));
    }

    private static PricesView view(ResultSet row, int number) throws SQLException {
        var currency = row.getString("currency");
        var answer = row.getString("answer");
        var answered = row.getObject("answered_at", OffsetDateTime.class);
        return new PricesView(
                row.getObject("id", UUID.class),
                row.getObject("valid_from", LocalDate.class),
                new Money(row.getLong("repair_minor"), currency),
                new Money(row.getLong("further_minor"), currency),
                new Money(row.getLong("call_out_minor"), currency),
                money(row.getObject("replacement_minor", Long.class), currency),
                row.getObject("warranty_months", Integer.class),
                row.getObject("made_at", OffsetDateTime.class).toInstant(),
                row.getString("made_by"),
                row.getObject("proposed_by_id", UUID.class),
                row.getBoolean("ours"),
                answer == null ? PricesState.WAITING : PricesState.valueOf(answer),
                answered == null ? null : answered.toInstant(),
                row.getString("answered_by"),
                row.getString("answer_reason"),
                row.getBoolean("in_force"),
                row.getBoolean("overtaken"));
    }

    private static @Nullable Money money(@Nullable Long minor, String currency) {
        return minor == null ? null : new Money(minor, currency);
    }
}
