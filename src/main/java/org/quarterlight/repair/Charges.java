package org.quarterlight.repair;

import jakarta.validation.Valid;
import java.io.IOException;
import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.agreement.Charge;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.agreement.Prices;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Money;
import org.quarterlight.kernel.Reason;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.CsvFile;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** What jobs cost: fixed when they end, listed to invoice from, and marked once they are. */
@Service
@Validated
public class Charges {
    private static final String READERS = "hasAnyRole('ADMINISTRATOR', 'MANAGER', 'DISPATCHER')";
    private static final ListQuery.Order NEWEST = ListQuery.Order.descending(
            "newest", new ListQuery.Key("c.visited_on", "date"), new ListQuery.Key("c.id", "uuid"));
    private static final ListQuery.Order CHANGED_LAST = ListQuery.Order.descending(
            "last", new ListQuery.Key("x.changed_at", "timestamptz"), new ListQuery.Key("x.id", "uuid"));
    private static final String COLUMNS = """
        c.id, c.job_id, j.number, c.tenant_id, o.name as fleet_name, c.performer_id, j.performer_name, j.registration,
        j.depot_name, c.visited_on, j.work, c.basis, c.chips, c.further_chips, c.work_minor, c.call_out_minor, c.currency,
        c.warranty_until, j.payer, j.claim_reference, c.invoice_number, c.invoiced_at, x.old_number, x.reason as invoice_reason\
        """;
    private static final List<String> HEADINGS = List.of(
            "Job",
            "Fleet",
            "Registration",
            "Depot",
            "Date",
            "Work",
            "Basis",
            "Chips",
            "Further chips",
            "Work amount",
            "Call-out",
            "Total",
            "Currency",
            "Payer",
            "Claim reference",
            "Invoice");

    private final JobAccess access;
    private final PriceAgreements prices;
    private final JobVans vans;
    private final History history;
    private final JdbcClient jdbc;
    private final Clock clock;

    Charges(JobAccess access, PriceAgreements prices, JobVans vans, History history, JdbcClient jdbc, Clock clock) {
        this.access = access;
        this.prices = prices;
        this.vans = vans;
        this.history = history;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** The present organisation's, as performer or as fleet; newest first. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public Slice<ChargeView> list(ChargeFilter filter, SliceRequest wanted) {
        return filtered(filter).slice(jdbc, NEWEST, wanted, Charges::view);
    }

    /** What the whole list comes to, by currency; those without a price at the end. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public List<ChargeTotal> totals(ChargeFilter filter) {
        return filtered(filter)
                .grouped(
                        jdbc,
                        "c.currency, count(*) as charges, sum(c.work_minor + c.call_out_minor) as total",
                        "c.currency",
                        (row, number) -> new ChargeTotal(
                                row.getLong("charges"),
                                money(row.getObject("total", BigDecimal.class), row.getString("currency"))));
    }

    /** The whole list for a spreadsheet, row by row. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public void write(ChargeFilter filter, CsvFile.Destination destination, char separator) throws IOException {
        try (var file = new CsvFile(destination.open(), separator, HEADINGS)) {
            filtered(filter).each(jdbc, NEWEST, row -> file.write(cells(view(row, 0))));
        }
    }

    /** All of them or none: one that is invoiced already is invoiced once. */
    @Transactional
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'DISPATCHER')")
    public List<ChargeView> invoice(@Valid InvoiceCharges command) {
        var ids = command.charges().stream().distinct().toList();
        var organisation = Tenants.require().value();
        // The jobs first, in one order: who pays is corrected under the same lock.
        jdbc.sql("""
            select j.id from job j join charge c on c.tenant_id = j.tenant_id and c.job_id = j.id
            where j.performer_id = :organisation and c.performer_id = :organisation and c.id in (:ids)
            order by j.id for update\
            """)
                .param("organisation", organisation)
                .param("ids", ids)
                .query(UUID.class)
                .list();
        Locks.work(jdbc, "invoices");
        var found = chosen(organisation, ids);
        if (found.size() < ids.size()) {
            throw new Invalid("charges", "One of these is none of your charges");
        }
        for (var charge : found) {
            if (charge.invoiceNumber() != null) {
                throw new ChargeRefused(charge.jobNumber(), charge.invoiceNumber());
            }
        }
        found.stream().filter(charge -> charge.total() == null).findFirst().ifPresent(charge -> {
            throw new Invalid("charges", "Job " + charge.jobNumber() + " has no price: none was agreed for its day");
        });
        if (found.stream().map(ChargeView::fleet).distinct().count() > 1) {
            throw new Invalid("charges", "An invoice goes to one fleet");
        }
        if (found.stream().map(ChargeView::payer).distinct().count() > 1) {
            throw new Invalid("charges", "An invoice has one payer: the fleet, or its insurer");
        }
        if (found.stream().map(Charges::currency).distinct().count() > 1) {
            throw new Invalid("charges", "An invoice has one currency");
        }
        var number = command.number().trim();
        checkNumber("number", number, found.getFirst());
        jdbc.sql("""
            update charge set invoice_number = :number, invoiced_at = :now, invoiced_by = :by
            where performer_id = :organisation and id in (:ids)\
            """)
                .param("number", number)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("by", Acting.require().name())
                .param("organisation", organisation)
                .param("ids", ids)
                .update();
        found.forEach(
                charge -> history.add("invoiced", "job", charge.job(), charge.registration() + ": invoice " + number));
        return chosen(organisation, ids);
    }

    /** Corrects the number of an invoice, or releases its charges: all of them together, with a reason that both parties read. */
    @Transactional
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'DISPATCHER')")
    public List<ChargeView> changeInvoice(@Valid ChangeInvoice command) {
        var organisation = Tenants.require().value();
        var number = command.number().trim();
        var wanted = command.newNumber() == null ? null : command.newNumber().trim();
        if (wanted != null && wanted.isEmpty()) {
            throw new Invalid("newNumber", "Give the number that it should have");
        }
        if (number.equals(wanted)) {
            throw new Invalid("newNumber", "This is the number that it has");
        }
        var reason = Reason.given(command.reason());
        // The jobs first, in one order, as where they are invoiced.
        var locked = Set.copyOf(jdbc.sql("""
            select j.id from job j join charge c on c.tenant_id = j.tenant_id and c.job_id = j.id
            where j.performer_id = :organisation and c.performer_id = :organisation and c.invoice_number = :number
            order by j.id for update of j\
            """)
                .param("organisation", organisation)
                .param("number", number)
                .query(UUID.class)
                .list());
        Locks.work(jdbc, "invoices");
        var found = on(number, "performer_id");
        if (found.isEmpty()) {
            throw new Invalid("number", "No charge of yours is on invoice " + number + " any more");
        }
        if (found.stream().anyMatch(charge -> !locked.contains(charge.job()))) {
            throw new Invalid("number", "Something was put on it at this moment: look at it again");
        }
        if (wanted != null) {
            checkNumber("newNumber", wanted, found.getFirst());
        }
        var now = clock.instant();
        var by = Acting.require().name();
        var change = Ids.next(now);
        jdbc.sql("""
            insert into invoice_change (tenant_id, performer_id, id, old_number, new_number, charges, reason, changed_at,
                changed_by)
            values (:fleet, :organisation, :id, :old, :new, :charges, :reason, :now, :by)\
            """)
                .param("fleet", found.getFirst().fleet())
                .param("organisation", organisation)
                .param("id", change)
                .param("old", number)
                .param("new", wanted)
                .param("charges", found.size())
                .param("reason", reason)
                .param("now", now.atOffset(ZoneOffset.UTC))
                .param("by", by)
                .update();
        jdbc.sql("update charge set invoice_number = :new, invoice_change_id = :id"
                        + (wanted == null ? ", invoiced_at = null, invoiced_by = null" : "")
                        + " where performer_id = :organisation and invoice_number = :old")
                .param("new", wanted)
                .param("id", change)
                .param("organisation", organisation)
                .param("old", number)
                .update();
        found.forEach(charge -> history.add(
                wanted == null ? "released from its invoice" : "corrected the invoice of",
                "job",
                charge.job(),
                charge.registration() + ": " + number + (wanted == null ? "" : " is " + wanted) + ", " + reason));
        return chosen(organisation, found.stream().map(ChargeView::id).toList());
    }

    /** The invoice that a charge is on, as either party sees it. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public InvoiceView invoiceOf(UUID charge) {
        var found = jdbc.sql("select " + COLUMNS + " from " + from(side()) + " where c." + side()
                        + " = :organisation and c.id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", charge)
                .query(Charges::view)
                .optional()
                .orElseThrow(() -> new ChargeNotFound(charge));
        var number = found.invoiceNumber();
        if (number == null) {
            throw new InvoiceNotFound(found.jobNumber());
        }
        var same = on(number, side()).stream()
                .filter(each -> each.performer().equals(found.performer()))
                .toList();
        var changes = changes()
                .where("x.tenant_id = :fleet", "fleet", found.fleet())
                .where("x.performer_id = :performer", "performer", found.performer())
                .where("(x.new_number = :number or x.old_number = :number)", "number", number)
                .slice(jdbc, CHANGED_LAST, SliceRequest.most(), Charges::change);
        return new InvoiceView(number, same, changes.items());
    }

    /** All invoices that were corrected or taken apart, the last first. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public Slice<InvoiceChangeView> invoiceChanges(SliceRequest wanted) {
        return changes().slice(jdbc, CHANGED_LAST, wanted, Charges::change);
    }

    private static ListQuery changes() {
        return new ListQuery(
                        """
            x.*, o.name as fleet_name, p.name as performer_name\
            """,
                        "invoice_change x join organisation o on o.id = x.tenant_id join organisation p on p.id = x.performer_id")
                .where(
                        "x." + side() + " = :organisation",
                        "organisation",
                        Tenants.require().value());
    }

    private static InvoiceChangeView change(ResultSet row, int number) throws SQLException {
        return new InvoiceChangeView(
                row.getObject("id", UUID.class),
                row.getObject("tenant_id", UUID.class),
                row.getString("fleet_name"),
                row.getObject("performer_id", UUID.class),
                row.getString("performer_name"),
                row.getString("old_number"),
                row.getString("new_number"),
                row.getInt("charges"),
                row.getString("reason"),
                row.getObject("changed_at", OffsetDateTime.class).toInstant(),
                row.getString("changed_by"));
    }

    /** What of one side is on an invoice. */
    private List<ChargeView> on(String number, String side) {
        return jdbc.sql("select " + COLUMNS + " from " + from(side) + " where c." + side
                        + " = :organisation and c.invoice_number = :number order by j.number")
                .param("organisation", Tenants.require().value())
                .param("number", number)
                .query(Charges::view)
                .list();
    }

    /**
     * Work without a price, once prices were accepted that reach back to its day: it costs what they say, and no more is asked
     * after that.
     */
    @Transactional
    @PreAuthorize("hasAnyRole('ADMINISTRATOR', 'DISPATCHER')")
    public ChargeView price(UUID id) {
        var organisation = Tenants.require().value();
        var ofJob = jdbc.sql("""
            select j.id from job j join charge c on c.tenant_id = j.tenant_id and c.job_id = j.id
            where j.performer_id = :organisation and c.performer_id = :organisation and c.id = :id for update of j\
            """)
                .param("organisation", organisation)
                .param("id", id)
                .query(UUID.class)
                .optional()
                .orElseThrow(() -> new ChargeNotFound(id));
        Locks.work(jdbc, "charges");
        var job = access.find(ofJob);
        var present = chosen(organisation, List.of(id)).getFirst();
        if (present.basis() != Charge.Basis.NOT_AGREED) {
            throw new ChargeRefused("Job " + present.jobNumber() + " has its price already");
        }
        var brief = access.brief(job);
        var agreed =
                prices.inForce(job.fleet(), organisation, present.visitedOn()).orElse(null);
        var repair = job.work() == Work.REPAIR;
        var by = jdbc.sql("select visited_by from charge where performer_id = :organisation and id = :id")
                .param("organisation", organisation)
                .param("id", id)
                .query(String.class)
                .single();
        var charge = Charge.of(
                new Charge.Done(repair, repair ? brief.damages().size() : 0, false, false),
                agreed,
                before(job, brief.depot().id(), present.visitedOn(), by));
        var total = charge.total();
        if (agreed == null || total == null) {
            throw new Invalid(
                    "charge",
                    "No accepted price reaches back to the day of job " + present.jobNumber() + ": propose one");
        }
        jdbc.sql("""
            update charge set basis = :basis, agreement_id = :agreement, chips = :chips, further_chips = :further,
                work_minor = :work, call_out_minor = :callOut, currency = :currency, warranty_months = :months,
                warranty_until = :until
            where performer_id = :organisation and id = :id\
            """)
                .param("months", repair ? agreed.warrantyMonths() : null)
                .param("until", repair ? until(present.visitedOn(), agreed) : null)
                .param("basis", charge.basis().name())
                .param("agreement", agreed.agreement())
                .param("chips", charge.chips())
                .param("further", charge.furtherChips())
                .param("work", minor(charge.work()))
                .param("callOut", minor(charge.callOut()))
                .param("currency", total.currency())
                .param("organisation", organisation)
                .param("id", id)
                .update();
        history.add("priced", "job", job.id(), job.registration() + ": " + total + " by prices accepted later");
        return chosen(organisation, List.of(id)).getFirst();
    }

    /** Of a charge that has a price. */
    private static String currency(ChargeView charge) {
        return Objects.requireNonNull(charge.total()).currency();
    }

    private void checkNumber(String field, String number, ChargeView charge) {
        if (isAnothers(number, charge)) {
            throw new Invalid(field, "This number stands on an invoice of another fleet, payer or currency");
        }
    }

    private boolean isAnothers(String number, ChargeView charge) {
        return jdbc.sql("""
            select exists (
                select from charge c join job j on j.performer_id = c.performer_id and j.id = c.job_id
                where c.performer_id = :organisation and c.invoice_number = :number
                    and (c.tenant_id <> :fleet or j.payer <> :payer or c.currency is distinct from :currency))\
            """)
                .param("organisation", Tenants.require().value())
                .param("number", number)
                .param("fleet", charge.fleet())
                .param("payer", charge.payer().name())
                .param("currency", currency(charge))
                .query(Boolean.class)
                .single();
    }

    private List<ChargeView> chosen(UUID organisation, List<UUID> ids) {
        return jdbc.sql("select " + COLUMNS + " from " + from("performer_id") + """
             where c.performer_id = :organisation and c.id in (:ids) order by j.number\
            """)
                .param("organisation", organisation)
                .param("ids", ids)
                .query(Charges::view)
                .list();
    }

    /** Null before the job has ended, and where the fleet did it itself. */
    @Nullable
    ChargeView of(Job job) {
        if (!job.state().isEnd()) {
            return null;
        }
        return jdbc.sql("select " + COLUMNS + " from " + from("tenant_id") + " where c." + side()
                        + " = :organisation and c.tenant_id = :fleet and c.job_id = :job")
                .param("organisation", Tenants.require().value())
                .param("fleet", job.fleet())
                .param("job", job.id())
                .query(Charges::view)
                .optional()
                .orElse(null);
    }

    /**
     * Fixes what a job costs, in the transaction that ends it, by the prices of the day there. Of two that end at once the
     * later sees the earlier: neither the call-out nor the first chip is charged twice.
     */
    void fix(Job job, boolean failed, Instant at) {
        if (job.performer().equals(job.fleet())) {
            return;
        }
        Locks.work(jdbc, "charges");
        var brief = access.brief(job);
        var day = at.atZone(brief.depot().zone()).toLocalDate();
        var by = vans.vanOf(job.id()).map(van -> "van " + van).orElseGet(() -> "technician " + job.technician());
        var agreed = prices.inForce(job.fleet(), job.performer(), day);
        var repair = job.work() == Work.REPAIR;
        var own = makesGood(job);
        var free = own.filter(warranty -> !warranty.endedBefore(claimed(job)));
        var charge = Charge.of(
                new Charge.Done(repair, repair ? brief.damages().size() : 0, failed, free.isPresent()),
                agreed.orElse(null),
                before(job, brief.depot().id(), day, by));
        // What is made good for nothing has what is left of the first warranty, everything else one of its own.
        var warranty = !repair || failed
                ? Warranty.WHILE_FITTED
                : free.orElseGet(() -> agreed.map(prices -> new Warranty(prices.warrantyMonths(), until(day, prices)))
                        .orElse(Warranty.WHILE_FITTED));
        var now = clock.instant();
        jdbc.sql("""
            insert into charge (tenant_id, performer_id, id, job_id, basis, agreement_id, chips, further_chips, work_minor,
                call_out_minor, currency, warranty_months, warranty_until, vehicle_id, depot_id, visited_on, visited_by,
                fixed_at)
            values (:fleet, :performer, :id, :job, :basis, :agreement, :chips, :further, :work, :callOut, :currency, :months,
                :until, :vehicle, :depot, :day, :by, :now)\
            """)
                .param("months", warranty.months())
                .param("until", warranty.until())
                .param("fleet", job.fleet())
                .param("performer", job.performer())
                .param("id", Ids.next(now))
                .param("job", job.id())
                .param("basis", charge.basis().name())
                .param("agreement", agreed.map(Prices::agreement).orElse(null))
                .param("chips", charge.chips())
                .param("further", charge.furtherChips())
                .param("work", minor(charge.work()))
                .param("callOut", minor(charge.callOut()))
                .param("currency", charge.work() == null ? null : charge.work().currency())
                .param("vehicle", job.vehicle())
                .param("depot", brief.depot().id())
                .param("day", day)
                .param("by", by)
                .param("now", now.atOffset(ZoneOffset.UTC))
                .update();
    }

    /** How long a repair is made good for nothing; nulls as long as the glass is fitted. */
    private record Warranty(
            @Nullable Integer months, @Nullable LocalDate until) {
        static final Warranty WHILE_FITTED = new Warranty(null, null);

        boolean endedBefore(LocalDate day) {
            return until != null && day.isAfter(until);
        }
    }

    private static @Nullable LocalDate until(LocalDate visited, Prices prices) {
        return prices.warrantyMonths() == null ? null : visited.plusMonths(prices.warrantyMonths());
    }

    /** The day on which it was asked for, there. */
    private LocalDate claimed(Job job) {
        return job.requestedAt().atZone(access.brief(job).depot().zone()).toLocalDate();
    }

    /**
     * Of a job that makes good what the same performer did: the last day of that warranty, where it had ended before it was asked
     * for. The job is charged as agreed then.
     */
    @Nullable
    LocalDate endedWarranty(Job job) {
        return makesGood(job)
                .filter(warranty -> warranty.endedBefore(claimed(job)))
                .map(Warranty::until)
                .orElse(null);
    }

    /** A repair that failed is made good by whoever did it; the job before is none of another repairer's. */
    private Optional<Warranty> makesGood(Job job) {
        if (!job.warranty() || job.performer().equals(job.fleet())) {
            return Optional.empty();
        }
        return jdbc.sql("""
            select c.warranty_months, c.warranty_until
            from job j left join charge c on c.tenant_id = j.tenant_id and c.job_id = j.id
            where j.performer_id = :performer and j.tenant_id = :fleet and j.id = :failed\
            """)
                .param("performer", job.performer())
                .param("fleet", job.fleet())
                .param("failed", job.follows())
                .query((row, number) -> new Warranty(
                        row.getObject("warranty_months", Integer.class),
                        row.getObject("warranty_until", LocalDate.class)))
                .optional();
    }

    private Charge.Before before(Job job, UUID depot, LocalDate day, String by) {
        return jdbc.sql("""
            select coalesce(bool_or(vehicle_id = :vehicle and chips > 0), false) as chip,
                coalesce(bool_or(depot_id = :depot and visited_by = :by and call_out_minor > 0), false) as call_out
            from charge where performer_id = :performer and tenant_id = :fleet and visited_on = :day\
            """)
                .param("vehicle", job.vehicle())
                .param("depot", depot)
                .param("by", by)
                .param("performer", job.performer())
                .param("fleet", job.fleet())
                .param("day", day)
                .query((row, number) -> new Charge.Before(row.getBoolean("chip"), row.getBoolean("call_out")))
                .single();
    }

    private static ListQuery filtered(ChargeFilter filter) {
        var side = side();
        var list = new ListQuery(COLUMNS, from(side))
                .where(
                        "c." + side + " = :organisation",
                        "organisation",
                        Tenants.require().value())
                .whereGiven("c.tenant_id = :fleet", "fleet", filter.fleet())
                .whereGiven("c.visited_on >= :from", "from", filter.from())
                .whereGiven("c.visited_on <= :to", "to", filter.to())
                .whereGiven(
                        "j.payer = :payer",
                        "payer",
                        filter.payer() == null ? null : filter.payer().name());
        if (filter.invoiced() != null) {
            list.where("c.invoice_number is " + (filter.invoiced() ? "not null" : "null"));
        }
        return list;
    }

    private static String side() {
        return JobAccess.asRepairer() ? "performer_id" : "tenant_id";
    }

    /** Charges with their jobs, read from one side. */
    private static String from(String side) {
        return "charge c join job j on j." + side + " = c." + side
                + " and j.id = c.job_id join organisation o on o.id = c.tenant_id left join invoice_change x on x."
                + side
                + " = c." + side + " and x.id = c.invoice_change_id";
    }

    private static List<String> cells(ChargeView charge) {
        var cells = new ArrayList<String>();
        cells.add(Integer.toString(charge.jobNumber()));
        cells.add(charge.fleetName());
        cells.add(charge.registration());
        cells.add(charge.depotName());
        cells.add(charge.visitedOn().toString());
        cells.add(charge.workKind().name().toLowerCase(Locale.ROOT));
        cells.add(charge.basis().name().toLowerCase(Locale.ROOT).replace('_', ' '));
        cells.add(Integer.toString(charge.chips()));
        cells.add(Integer.toString(charge.furtherChips()));
        cells.add(amount(charge.work()));
        cells.add(amount(charge.callOut()));
        cells.add(amount(charge.total()));
        cells.add(charge.total() == null ? "" : charge.total().currency());
        cells.add(charge.payer().name().toLowerCase(Locale.ROOT));
        cells.add(Objects.requireNonNullElse(charge.claimReference(), ""));
        cells.add(Objects.requireNonNullElse(charge.invoiceNumber(), ""));
        return cells;
    }

    private static String amount(@Nullable Money money) {
        return money == null ? "" : money.amount();
    }

    private static @Nullable Long minor(@Nullable Money money) {
        return money == null ? null : money.amountMinor();
    }

    private static @Nullable Money money(@Nullable Number minor, @Nullable String currency) {
        return minor == null || currency == null ? null : new Money(minor.longValue(), currency);
    }

    private static ChargeView view(ResultSet row, int number) throws SQLException {
        var currency = row.getString("currency");
        var work = money(row.getObject("work_minor", Long.class), currency);
        var callOut = money(row.getObject("call_out_minor", Long.class), currency);
        return new ChargeView(
                row.getObject("id", UUID.class),
                row.getObject("job_id", UUID.class),
                row.getInt("number"),
                row.getObject("tenant_id", UUID.class),
                row.getString("fleet_name"),
                row.getObject("performer_id", UUID.class),
                row.getString("performer_name"),
                row.getString("registration"),
                row.getString("depot_name"),
                row.getObject("visited_on", LocalDate.class),
                Work.valueOf(row.getString("work")),
                Charge.Basis.valueOf(row.getString("basis")),
                row.getInt("chips"),
                row.getInt("further_chips"),
                work,
                callOut,
                work == null || callOut == null
                        ? null
                        : new Money(Math.addExact(work.amountMinor(), callOut.amountMinor()), work.currency()),
                row.getObject("warranty_until", LocalDate.class),
                Payer.valueOf(row.getString("payer")),
                row.getString("claim_reference"),
                row.getString("invoice_number"),
                Optional.ofNullable(row.getObject("invoiced_at", OffsetDateTime.class))
                        .map(OffsetDateTime::toInstant)
                        .orElse(null),
                row.getString("old_number"),
                row.getString("invoice_reason"));
    }
}
