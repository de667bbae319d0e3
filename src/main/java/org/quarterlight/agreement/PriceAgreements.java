package org.quarterlight.agreement;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
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
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** What work costs by agreement, in versions that each hold from a day on and are never changed. */
@Service
@Validated
public class PriceAgreements {
    private static final ListQuery.Order LAST_FIRST = ListQuery.Order.descending(
            "last", new ListQuery.Key("a.valid_from", "date"), new ListQuery.Key("a.id", "uuid"));

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

    /** All there were and will be, the last first. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'MANAGER', 'DISPATCHER')")
    public Slice<PricesView> list(UUID partner, SliceRequest wanted) {
        var found = partners.partner(partner);
        return of(found).slice(jdbc, LAST_FIRST, wanted, PriceAgreements::view);
    }

    /**
     * The fleet agrees to prices. From tomorrow at the earliest, so that nobody's work is paid differently than it was when
     * it began; the first ones may reach back, where none held before.
     */
    @Transactional
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'MANAGER')")
    public PricesView agree(UUID partner, @Valid SavePrices command) {
        Locks.row(jdbc, "partner", partner);
        var found = partners.partner(partner);
        if (!found.fleet().equals(Tenants.require().value())) {
            throw new Invalid("partner", "The fleet agrees to the prices");
        }
        if (found.state() == PartnerState.ENDED) {
            throw new Invalid("partner", "This agreement has ended");
        }
        var currency = Money.currency("currency", command.currency());
        if (!command.validFrom().isAfter(today.here()) && of(found).count(jdbc) > 0) {
            throw new Invalid("validFrom", "Other prices hold until tonight: choose a day to come");
        }
        var now = clock.instant();
        var id = Ids.next(now);
        jdbc.sql("""
            insert into price_agreement (tenant_id, performer_id, id, valid_from, currency, repair_minor, further_minor,
                call_out_minor, replacement_minor, made_at, made_by)
            values (:organisation, :repairer, :id, :from, :currency, :repair, :further, :callOut, :replacement, :now, :by)\
            """)
                .param("organisation", found.fleet())
                .param("repairer", found.repairer())
                .param("id", id)
                .param("from", command.validFrom())
                .param("currency", currency.getCurrencyCode())
                .param("repair", command.repairMinor())
                .param("further", command.furtherMinor())
                .param("callOut", command.callOutMinor())
                .param("replacement", command.replacementMinor())
                .param("now", now.atOffset(ZoneOffset.UTC))
                .param("by", Acting.require().name())
                .update();
        history.add("agreed prices with", "partner", partner, found.repairerName() + ", from " + command.validFrom());
        return of(found)
                .where("a.id = :id", "id", id)
                .slice(jdbc, LAST_FIRST, SliceRequest.first(), PriceAgreements::view)
                .items()
                .getFirst();
    }

    /** Those that hold on a day; of two from the same day those made later. Asks nobody's right. */
    @Transactional(readOnly = true)
    public Optional<Prices> inForce(UUID fleet, UUID performer, LocalDate day) {
        return jdbc.sql("""
            select a.* from price_agreement a
            where a.tenant_id = :fleet and a.performer_id = :performer and a.valid_from <= :day
            order by a.valid_from desc, a.id desc limit 1\
            """)
                .param("fleet", fleet)
                .param("performer", performer)
                .param("day", day)
                .query((row, number) -> new Prices(
                        row.getObject("id", UUID.class),
                        row.getString("currency"),
                        row.getLong("repair_minor"),
                        row.getLong("further_minor"),
                        row.getLong("call_out_minor"),
                        row.getObject("replacement_minor", Long.class)))
                .optional();
    }

    private static ListQuery of(PartnerView partner) {
        var organisation = Tenants.require().value();
        var side = partner.fleet().equals(organisation) ? "a.tenant_id" : "a.performer_id";
        var other = partner.fleet().equals(organisation) ? "a.performer_id" : "a.tenant_id";
        return new ListQuery("a.*", "price_agreement a")
                .where(side + " = :organisation", "organisation", organisation)
                .where(
                        other + " = :other",
                        "other",
                        partner.fleet().equals(organisation) ? partner.repairer() : partner.fleet());
    }

    private static PricesView view(ResultSet row, int number) throws SQLException {
        var currency = row.getString("currency");
        return new PricesView(
                row.getObject("id", UUID.class),
                row.getObject("valid_from", LocalDate.class),
                new Money(row.getLong("repair_minor"), currency),
                new Money(row.getLong("further_minor"), currency),
                new Money(row.getLong("call_out_minor"), currency),
                money(row.getObject("replacement_minor", Long.class), currency),
                row.getObject("made_at", OffsetDateTime.class).toInstant(),
                row.getString("made_by"));
    }

    private static @Nullable Money money(@Nullable Long minor, String currency) {
        return minor == null ? null : new Money(minor, currency);
    }
}
