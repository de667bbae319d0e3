package org.quarterlight.repair;

import jakarta.validation.Valid;
import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.quarterlight.web.Words;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/**
 * What lies in stores and vans. Each change is a movement that is only ever added, and the balance beside it is changed in
 * the same transaction, under the lock of its place; less than nothing lies nowhere.
 */
@Service
@Validated
public class Stock {
    private static final String READERS = "hasAnyRole('DISPATCHER', 'TECHNICIAN', 'MANAGER')";
    private static final String MOVERS = "hasAnyRole('DISPATCHER', 'TECHNICIAN')";
    private static final ListQuery.Order BY_NAME =
            ListQuery.Order.ascending("name", new ListQuery.Key("p.name", "text"), new ListQuery.Key("p.id", "uuid"));
    private static final ListQuery.Order BY_LOT =
            ListQuery.Order.ascending("lot", new ListQuery.Key("l.number", "text"), new ListQuery.Key("l.id", "uuid"));
    private static final ListQuery.Order NEWEST =
            ListQuery.Order.descending("newest", new ListQuery.Key("m.id", "uuid"));
    private static final ListQuery.Order BY_PLACE_AND_KIND = ListQuery.Order.ascending(
            "place",
            new ListQuery.Key("r.name", "text"),
            new ListQuery.Key("r.place_id", "uuid"),
            new ListQuery.Key("r.kind", "text"));
    private static final String BALANCE = """
        b.place_id, p.name as place_name, b.lot_id, l.number, l.kind, l.resin, l.expires_on, l.recalled_at, b.quantity\
        """;
    private static final String BALANCES = """
        stock_balance b join resin_lot l on l.tenant_id = b.tenant_id and l.id = b.lot_id
        join stock_place p on p.tenant_id = b.tenant_id and p.id = b.place_id\
        """;

    private final Materials materials;
    private final Today today;
    private final History history;
    private final JdbcClient jdbc;
    private final Clock clock;

    Stock(Materials materials, Today today, History history, JdbcClient jdbc, Clock clock) {
        this.materials = materials;
        this.today = today;
        this.history = history;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    // Places

    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public Slice<StockPlace> places(SliceRequest wanted) {
        return new ListQuery("p.*", "stock_place p")
                .where("p.tenant_id = :organisation", "organisation", organisation())
                .where("p.retired_at is null")
                .slice(jdbc, BY_NAME, wanted, Stock::place);
    }

    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public StockPlace place(UUID id) {
        return jdbc.sql("select * from stock_place where tenant_id = :organisation and id = :id")
                .param("organisation", organisation())
                .param("id", id)
                .query(Stock::place)
                .optional()
                .orElseThrow(() -> new StockPlaceNotFound(id));
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public StockPlace create(@Valid SaveStockPlace command) {
        var id = Ids.next(clock.instant());
        write("""
            insert into stock_place (tenant_id, id, name, kind, version)
            values (:organisation, :id, :name, :kind, 0) on conflict do nothing\
            """, id, command);
        history.add("made", "stock place", id, command.name().trim());
        return place(id);
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public StockPlace change(UUID id, @Valid SaveStockPlace command, int version) {
        Locks.work(jdbc, "stock places");
        Stale.check("The place", version, inUse(id).version());
        write("""
            update stock_place set name = :name, kind = :kind, version = version + 1
            where tenant_id = :organisation and id = :id and not exists (
                select from stock_place o where o.tenant_id = :organisation and o.name = :name and o.id <> :id
                    and o.retired_at is null)\
            """, id, command);
        history.add("changed", "stock place", id, command.name().trim());
        return place(id);
    }

    /** Once nothing lies there. */
    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public void retire(UUID id, int version) {
        Locks.row(jdbc, "stock_place", id);
        var place = place(id);
        Stale.check("The place", version, place.version());
        var full = jdbc.sql("""
            select exists (select from stock_balance
            where tenant_id = :organisation and place_id = :id and quantity > 0)\
            """)
                .param("organisation", organisation())
                .param("id", id)
                .query(Boolean.class)
                .single();
        if (full) {
            throw new JobRefused("place-not-empty", "Something still lies in " + place.name() + ": take it away first");
        }
        jdbc.sql("""
            update stock_place set retired_at = coalesce(retired_at, :now), version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", organisation())
                .param("id", id)
                .update();
        history.add("retired", "stock place", id, place.name());
    }

    // What lies there

    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public Slice<StockBalance> balances(UUID place, SliceRequest wanted) {
        place(place);
        return balances().where("b.place_id = :place", "place", place).slice(jdbc, BY_LOT, wanted, Stock::balance);
    }

    /** Where a lot lies, for whoever has to take it off the shelves. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public Slice<StockBalance> ofLot(UUID lot, SliceRequest wanted) {
        materials.lot(lot);
        return balances().where("b.lot_id = :lot", "lot", lot).slice(jdbc, BY_NAME, wanted, Stock::balance);
    }

    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public Slice<StockMovement> movements(UUID place, SliceRequest wanted) {
        place(place);
        return new ListQuery("m.*, l.number, l.kind as lot_kind, o.name as other_name", """
            stock_movement m join resin_lot l on l.tenant_id = m.tenant_id and l.id = m.lot_id
            left join stock_place o on o.tenant_id = m.tenant_id and o.id = m.other_place\
            """)
                .where("m.tenant_id = :organisation", "organisation", organisation())
                .where("m.place_id = :place", "place", place)
                .slice(jdbc, NEWEST, wanted, Stock::movement);
    }

    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public List<StockLevel> levels(UUID place) {
        place(place);
        return jdbc.sql("""
            select kind, at_least from stock_level
            where tenant_id = :organisation and place_id = :place and at_least > 0 order by kind\
            """)
                .param("organisation", organisation())
                .param("place", place)
                .query((row, number) ->
                        new StockLevel(LotKind.valueOf(row.getString("kind")), row.getBigDecimal("at_least")))
                .list();
    }

    /** Every place that holds less of a kind than it should. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public Slice<ReorderLine> reorder(SliceRequest wanted) {
        return new ListQuery("r.*", """
            (select p.name, s.place_id, s.kind, s.at_least, coalesce(sum(b.quantity), 0) as usable
             from stock_level s
             join stock_place p on p.tenant_id = s.tenant_id and p.id = s.place_id and p.retired_at is null
             left join (stock_balance b join resin_lot l on l.tenant_id = b.tenant_id and l.id = b.lot_id
                 and l.recalled_at is null and l.retired_at is null
                 and coalesce(l.expires_on, 'infinity') >= :today)
                 on b.tenant_id = :organisation and b.quantity > 0 and b.place_id = s.place_id and l.kind = s.kind
             where s.tenant_id = :organisation
             group by p.name, s.place_id, s.kind, s.at_least) r\
            """)
                .parameter("organisation", organisation())
                .parameter("today", today.here())
                .where("r.usable < r.at_least")
                .slice(jdbc, BY_PLACE_AND_KIND, wanted, Stock::reorderLine);
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public List<StockLevel> keepAtLeast(UUID place, @Valid StockLevel level) {
        inUse(place);
        jdbc.sql("""
            insert into stock_level (tenant_id, place_id, kind, at_least)
            values (:organisation, :place, :kind, :atLeast)
            on conflict (tenant_id, place_id, kind) do update set at_least = excluded.at_least\
            """)
                .param("organisation", organisation())
                .param("place", place)
                .param("kind", level.kind().name())
                .param("atLeast", level.atLeast())
                .update();
        return levels(place);
    }

    // Movements

    @Transactional
    @PreAuthorize(MOVERS)
    public StockBalance receive(UUID place, @Valid ReceiveStock command) {
        var there = inUse(place);
        var lot = taken(command.lot());
        move(there, lot, StockMove.RECEIVED, command.quantity(), null, null, "", clock.instant());
        return balance(place, lot.id());
    }

    /** What is taken from one place arrives in the other, or neither happens. */
    @Transactional
    @PreAuthorize(MOVERS)
    public StockBalance transfer(UUID place, @Valid TransferStock command) {
        if (place.equals(command.to())) {
            throw new Invalid("to", "It lies there already");
        }
        // Both in one order: two who take things crosswise wait, and do not block each other.
        Stream.of(place, command.to()).sorted().forEach(each -> Locks.row(jdbc, "stock_place", each));
        var from = inUse(place);
        StockPlace to;
        try {
            to = inUse(command.to());
        } catch (StockPlaceNotFound e) {
            throw new Invalid("to", "There is no such place");
        }
        var lot = taken(command.lot());
        var now = clock.instant();
        move(from, lot, StockMove.SENT, command.quantity().negate(), null, to.id(), "", now);
        move(to, lot, StockMove.ARRIVED, command.quantity(), null, from.id(), "", now);
        return balance(place, lot.id());
    }

    /** Sets what lies there to what was counted; a difference is told with its reason. */
    @Transactional
    @PreAuthorize(MOVERS)
    public StockBalance count(UUID place, @Valid CountStock command) {
        var there = inUse(place);
        var lot = taken(command.lot());
        var present = quantity(place, lot.id());
        if (command.seen() != null && command.seen().compareTo(present) != 0) {
            throw new Invalid(
                    "quantity",
                    "Somebody moved some of it meanwhile: " + said(present, lot) + " stand written now. Count again");
        }
        var difference = command.quantity().subtract(present);
        var reason = Objects.requireNonNullElse(command.reason(), "").trim();
        if (difference.signum() != 0 && reason.isEmpty()) {
            throw new Invalid(
                    "reason",
                    said(present, lot) + " stood written, so it differs by " + said(difference, lot) + ": say why");
        }
        move(there, lot, StockMove.COUNTED, difference, null, null, reason, clock.instant());
        return balance(place, lot.id());
    }

    /** A job took this much of a lot in all; said again, only the difference moves. */
    void used(LotView lot, UUID job, UUID place, BigDecimal quantity, Instant at) {
        record Taken(@Nullable UUID place, @Nullable BigDecimal quantity) {}
        var before = jdbc.sql("""
            select place_id, quantity from lot_use
            where tenant_id = :organisation and lot_id = :lot and job_id = :job for update\
            """)
                .param("organisation", organisation())
                .param("lot", lot.id())
                .param("job", job)
                .query((row, number) -> new Taken(row.getObject("place_id", UUID.class), row.getBigDecimal("quantity")))
                .single();
        Stream.of(place, before.place())
                .filter(Objects::nonNull)
                .distinct()
                .sorted()
                .forEach(each -> Locks.row(jdbc, "stock_place", each));
        StockPlace there;
        try {
            there = inUse(place);
        } catch (StockPlaceNotFound e) {
            throw new Invalid("place", "There is no such place");
        }
        var earlier = before.quantity() == null ? BigDecimal.ZERO : before.quantity();
        if (before.place() != null && !before.place().equals(place)) {
            move(inUse(before.place()), lot, StockMove.USED, earlier, job, null, "taken from " + there.name(), at);
            earlier = BigDecimal.ZERO;
        }
        var change = earlier.subtract(quantity);
        if (change.signum() != 0) {
            move(there, lot, StockMove.USED, change, job, null, "", at);
        }
        jdbc.sql("""
            update lot_use set place_id = :place, quantity = :quantity
            where tenant_id = :organisation and lot_id = :lot and job_id = :job\
            """)
                .param("place", place)
                .param("quantity", quantity)
                .param("organisation", organisation())
                .param("lot", lot.id())
                .param("job", job)
                .update();
    }

    private void move(
            StockPlace place,
            LotView lot,
            StockMove move,
            BigDecimal change,
            @Nullable UUID job,
            @Nullable UUID otherPlace,
            String reason,
            Instant at) {
        var left = quantity(place.id(), lot.id()).add(change);
        if (left.signum() < 0) {
            throw new Invalid(
                    "quantity",
                    "In " + place.name() + " only " + said(left.subtract(change), lot) + " of lot " + lot.number()
                            + " stand written. Count it first where there is more");
        }
        if (left.precision() - left.scale() > 7) {
            throw new Invalid("quantity", "This is more than a place can hold");
        }
        jdbc.sql("""
            insert into stock_balance (tenant_id, place_id, lot_id, quantity) values (:organisation, :place, :lot, :left)
            on conflict (tenant_id, place_id, lot_id) do update set quantity = excluded.quantity\
            """)
                .param("organisation", organisation())
                .param("place", place.id())
                .param("lot", lot.id())
                .param("left", left)
                .update();
        jdbc.sql("""
            insert into stock_movement (tenant_id, id, place_id, lot_id, kind, change, left_there, job_id, other_place,
                reason, moved_at, moved_by)
            values (:organisation, :id, :place, :lot, :kind, :change, :left, :job, :other, :reason, :at, :by)\
            """)
                .param("organisation", organisation())
                .param("id", Ids.next(clock.instant()))
                .param("place", place.id())
                .param("lot", lot.id())
                .param("kind", move.name())
                .param("change", change)
                .param("left", left)
                .param("job", job)
                .param("other", otherPlace)
                .param("reason", reason)
                .param("at", at.atOffset(ZoneOffset.UTC))
                .param("by", Acting.require().name())
                .update();
    }

    /** Locked until the transaction ends: whoever reads what lies there may then write it. */
    private StockPlace inUse(UUID id) {
        Locks.row(jdbc, "stock_place", id);
        var place = place(id);
        if (place.retired()) {
            throw new JobRefused("place-retired", place.name() + " is out of use");
        }
        return place;
    }

    private LotView taken(UUID lot) {
        return materials.named("lot", lot);
    }

    private BigDecimal quantity(UUID place, UUID lot) {
        return jdbc.sql("""
            select quantity from stock_balance
            where tenant_id = :organisation and place_id = :place and lot_id = :lot\
            """)
                .param("organisation", organisation())
                .param("place", place)
                .param("lot", lot)
                .query(BigDecimal.class)
                .optional()
                .orElse(BigDecimal.ZERO);
    }

    private StockBalance balance(UUID place, UUID lot) {
        return jdbc.sql("select " + BALANCE + " from " + BALANCES + """
             where b.tenant_id = :organisation and b.place_id = :place and b.lot_id = :lot\
            """)
                .param("organisation", organisation())
                .param("place", place)
                .param("lot", lot)
                .query(Stock::balance)
                .single();
    }

    private static ListQuery balances() {
        return new ListQuery(BALANCE, BALANCES)
                .where("b.tenant_id = :organisation", "organisation", organisation())
                .where("b.quantity > 0");
    }

    /** Asks in the statement itself, for one that failed would end the transaction and with it the page that says so. */
    private void write(String sql, UUID id, SaveStockPlace command) {
        Locks.work(jdbc, "stock places");
        var written = jdbc.sql(sql)
                .param("organisation", organisation())
                .param("id", id)
                .param("name", command.name().trim())
                .param("kind", command.kind().name())
                .update();
        if (written == 0) {
            throw new Invalid("name", "There is a place of this name already");
        }
    }

    private static String said(BigDecimal quantity, LotView lot) {
        var number = quantity.signum() == 0
                ? "0"
                : quantity.stripTrailingZeros().toPlainString().replace('-', '−');
        return number + " " + Words.spoken(lot.kind().unit());
    }

    private static UUID organisation() {
        return Tenants.require().value();
    }

    private static StockPlace place(ResultSet row, int number) throws SQLException {
        return new StockPlace(
                row.getObject("id", UUID.class),
                row.getString("name"),
                StockPlaceKind.valueOf(row.getString("kind")),
                row.getObject("retired_at") != null,
                row.getInt("version"));
    }

    private static StockBalance balance(ResultSet row, int number) throws SQLException {
        var kind = LotKind.valueOf(row.getString("kind"));
        return new StockBalance(
                row.getObject("place_id", UUID.class),
                row.getString("place_name"),
                row.getObject("lot_id", UUID.class),
                row.getString("number"),
                kind,
                row.getString("resin"),
                row.getObject("expires_on", LocalDate.class),
                row.getObject("recalled_at") != null,
                row.getBigDecimal("quantity"),
                kind.unit());
    }

    private static StockMovement movement(ResultSet row, int number) throws SQLException {
        return new StockMovement(
                row.getObject("id", UUID.class),
                row.getObject("lot_id", UUID.class),
                row.getString("number"),
                LotKind.valueOf(row.getString("lot_kind")),
                StockMove.valueOf(row.getString("kind")),
                row.getBigDecimal("change"),
                row.getBigDecimal("left_there"),
                row.getObject("job_id", UUID.class),
                row.getObject("other_place", UUID.class),
                row.getString("other_name"),
                row.getString("reason"),
                row.getObject("moved_at", OffsetDateTime.class).toInstant(),
                row.getString("moved_by"));
    }

    private static ReorderLine reorderLine(ResultSet row, int number) throws SQLException {
        var kind = LotKind.valueOf(row.getString("kind"));
        var usable = row.getBigDecimal("usable");
        var atLeast = row.getBigDecimal("at_least");
        return new ReorderLine(
                row.getObject("place_id", UUID.class),
                row.getString("name"),
                kind,
                kind.unit(),
                usable,
                atLeast,
                atLeast.subtract(usable));
    }
}
