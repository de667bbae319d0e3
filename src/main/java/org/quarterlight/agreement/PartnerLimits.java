package org.quarterlight.agreement;

import jakarta.validation.Valid;
import java.sql.Array;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.function.BooleanSupplier;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.PartnerView;
import org.quarterlight.account.Partners;
import org.quarterlight.fleet.DepotView;
import org.quarterlight.fleet.Depots;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** What a fleet gives a partner at all: from which depots, from when to when, and whether only at agreed prices. */
@Service
@Validated
public class PartnerLimits {
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH);

    private final Partners partners;
    private final PriceAgreements prices;
    private final Depots depots;
    private final History history;
    private final JdbcClient jdbc;

    PartnerLimits(Partners partners, PriceAgreements prices, Depots depots, History history, JdbcClient jdbc) {
        this.partners = partners;
        this.prices = prices;
        this.depots = depots;
        this.history = history;
        this.jdbc = jdbc;
    }

    /** As both sides see them. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'MANAGER', 'DISPATCHER')")
    public LimitsView limits(UUID partner) {
        return of(partners.partner(partner));
    }

    /** The fleet says what it gives. What was given already stays given. */
    @Transactional
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'MANAGER')")
    public LimitsView change(UUID partner, @Valid SaveLimits command, int version) {
        var found = partners.partner(partner);
        if (!found.fleet().equals(Tenants.require().value())) {
            throw new Invalid("partner", "The fleet says what it gives");
        }
        Locks.row(jdbc, "partner", partner);
        Stale.check("What this partner is given", version, of(found).version());
        check(command);
        var chosen = command.depots();
        jdbc.sql("""
            insert into partner_limit (tenant_id, performer_id, depots, works_from, works_until, agreed_prices_only, version)
            values (:organisation, :repairer, cast(:depots as uuid[]), :from, :until, :agreed, 1)
            on conflict (tenant_id, performer_id) do update set depots = excluded.depots,
                works_from = excluded.works_from, works_until = excluded.works_until,
                agreed_prices_only = excluded.agreed_prices_only, version = partner_limit.version + 1\
            """)
                .param("organisation", found.fleet())
                .param("repairer", found.repairer())
                .param("depots", chosen == null ? null : array(chosen))
                .param("from", command.worksFrom())
                .param("until", command.worksUntil())
                .param("agreed", Boolean.TRUE.equals(command.agreedPricesOnly()))
                .update();
        history.add("limited", "partner", partner, found.repairerName());
        return of(found);
    }

    /**
     * Why a job of this depot is not for this partner on this day, as a sentence; empty where nothing speaks against it.
     * Asked by the fleet, under the lock of the partnership.
     */
    @Transactional(readOnly = true)
    public Optional<String> against(PartnerView partner, UUID depot, String depotName, LocalDate day) {
        return against(
                of(partner),
                partner,
                depot,
                depotName,
                day,
                () -> prices.inForce(partner.fleet(), partner.repairer(), day).isPresent());
    }

    /**
     * The same of several partners of the fleet at once, by their ids; who is not among the answers may be given it. By two
     * queries, however many they are.
     */
    @Transactional(readOnly = true)
    public Map<UUID, String> against(List<PartnerView> partners, UUID depot, String depotName, LocalDate day) {
        var organisation = Tenants.require().value();
        var all = new HashMap<UUID, LimitsView>();
        var repairers = partners.stream().collect(Collectors.toMap(PartnerView::repairer, PartnerView::id));
        jdbc.sql("select * from partner_limit where tenant_id = :organisation")
                .param("organisation", organisation)
                .query(row -> {
                    var partner = repairers.get(row.getObject("performer_id", UUID.class));
                    if (partner != null) {
                        all.put(partner, view(partner, row));
                    }
                });
        var priced = prices.inForce(organisation, day).keySet();
        var against = new HashMap<UUID, String>();
        for (var partner : partners) {
            against(
                            all.getOrDefault(partner.id(), none(partner.id())),
                            partner,
                            depot,
                            depotName,
                            day,
                            () -> priced.contains(partner.repairer()))
                    .ifPresent(why -> against.put(partner.id(), why));
        }
        return against;
    }

    private static Optional<String> against(
            LimitsView limits,
            PartnerView partner,
            UUID depot,
            String depotName,
            LocalDate day,
            BooleanSupplier agreed) {
        var name = partner.repairerName();
        if (limits.depots() != null && !limits.depots().contains(depot)) {
            return Optional.of(name + " does not work at " + depotName + ": it is none of the depots you gave them");
        }
        if (limits.worksFrom() != null && day.isBefore(limits.worksFrom())) {
            return Optional.of(name + " works for you from " + said(limits.worksFrom()));
        }
        if (limits.worksUntil() != null && day.isAfter(limits.worksUntil())) {
            return Optional.of(name + " worked for you until " + said(limits.worksUntil()));
        }
        if (limits.agreedPricesOnly() && !agreed.getAsBoolean()) {
            return Optional.of(name + " works for you at agreed prices only, and none are in force on " + said(day));
        }
        return Optional.empty();
    }

    private static String said(LocalDate day) {
        return DAY.format(day);
    }

    private void check(SaveLimits command) {
        if (command.worksFrom() != null
                && command.worksUntil() != null
                && command.worksUntil().isBefore(command.worksFrom())) {
            throw new Invalid("worksUntil", "This is before the day from which they work");
        }
        var chosen = command.depots();
        if (chosen == null) {
            return;
        }
        var own = depots.all().stream().map(DepotView::id).collect(Collectors.toSet());
        if (!own.containsAll(chosen)) {
            throw new Invalid("depots", "One of these is none of your depots");
        }
    }

    private LimitsView of(PartnerView partner) {
        var side = partner.fleet().equals(Tenants.require().value()) ? "tenant_id" : "performer_id";
        return jdbc.sql("select * from partner_limit where " + side
                        + " = :organisation and tenant_id = :fleet and performer_id = :repairer")
                .param("organisation", Tenants.require().value())
                .param("fleet", partner.fleet())
                .param("repairer", partner.repairer())
                .query((row, number) -> view(partner.id(), row))
                .optional()
                .orElseGet(() -> none(partner.id()));
    }

    private static LimitsView none(UUID partner) {
        return new LimitsView(partner, null, null, null, false, 0);
    }

    private static LimitsView view(UUID partner, ResultSet row) throws SQLException {
        return new LimitsView(
                partner,
                ids(row),
                row.getObject("works_from", LocalDate.class),
                row.getObject("works_until", LocalDate.class),
                row.getBoolean("agreed_prices_only"),
                row.getInt("version"));
    }

    private static @Nullable List<UUID> ids(ResultSet row) throws SQLException {
        Array depots = row.getArray("depots");
        return depots == null ? null : List.of((UUID[]) depots.getArray());
    }

    private static String array(List<UUID> ids) {
        return ids.stream().distinct().map(Objects::toString).collect(Collectors.joining(",", "{", "}"));
    }
}
