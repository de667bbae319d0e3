package org.quarterlight.inspection;

import jakarta.validation.Valid;
import java.net.URI;
import java.time.Clock;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.Tokens;
import org.quarterlight.damage.GrowthWatch;
import org.quarterlight.fleet.DepotNotFound;
import org.quarterlight.fleet.DepotView;
import org.quarterlight.fleet.Depots;
import org.quarterlight.history.History;
import org.quarterlight.inspection.SpreadDays.Vehicle;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** Which of the inspections of a depot are meant to be done on which day, and the same as a calendar. */
@Service
@Validated
public class InspectionPlanning {
    private static final int DAYS_AT_MOST = 366;
    private static final int PLANNED_AT_MOST = 20_000;
    private static final int IN_A_CALENDAR = 2_000;

    private final JdbcClient jdbc;
    private final Depots depots;
    private final InspectionPlans plans;
    private final Tokens tokens;
    private final GrowthWatch watch;
    private final History history;
    private final Clock clock;

    InspectionPlanning(
            JdbcClient jdbc,
            Depots depots,
            InspectionPlans plans,
            Tokens tokens,
            GrowthWatch watch,
            History history,
            Clock clock) {
        this.watch = watch;
        this.jdbc = jdbc;
        this.depots = depots;
        this.plans = plans;
        this.tokens = tokens;
        this.history = history;
        this.clock = clock;
    }

    /** Proposes a day for what is due at a depot, or keeps those days. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public SpreadDays spread(@Valid SpreadInspections command) {
        var depot = checked(command);
        var again = Boolean.TRUE.equals(command.again());
        var taken = new HashMap<LocalDate, Integer>();
        var due = new HashMap<Set<DayOfWeek>, List<Spread.Due<Vehicle>>>();
        var days = plans.daysAt(depot);
        Set<DayOfWeek> open = Set.copyOf(depot.openingHours().days().keySet());
        jdbc.sql("""
            select i.id, i.plan_id, v.registration, i.due_on, i.planned_on
            from inspection i join vehicle v on v.tenant_id = i.tenant_id and v.id = i.vehicle_id
            where i.tenant_id = :organisation and i.done_at is null and v.retired_at is null and v.depot_id = :depot
                and (i.due_on <= :to or i.planned_on between :from and :to)
            order by i.due_on, i.id limit :most\
            """)
                .param("organisation", organisation())
                .param("depot", depot.id())
                .param("from", command.from())
                .param("to", command.to())
                .param("most", PLANNED_AT_MOST)
                .query(row -> {
                    var planned = row.getObject("planned_on", LocalDate.class);
                    var dueOn = row.getObject("due_on", LocalDate.class);
                    var stands = planned != null
                            && !planned.isBefore(command.from())
                            && (!again || dueOn.isAfter(command.to()));
                    if (stands) {
                        taken.merge(planned, 1, Integer::sum);
                    } else {
                        var plan = row.getObject("plan_id", UUID.class);
                        due.computeIfAbsent(
                                        plan == null ? open : days.getOrDefault(plan, open), some -> new ArrayList<>())
                                .add(new Spread.Due<>(
                                        new Vehicle(
                                                row.getObject("id", UUID.class),
                                                row.getString("registration"),
                                                dueOn,
                                                false),
                                        dueOn));
                    }
                });
        var result = placed(due, depot, command, taken);
        if (Boolean.TRUE.equals(command.keep())) {
            keep(result.placed());
            watch.looksMoved(null);
            history.add(
                    "planned inspections at",
                    "depot",
                    depot.id(),
                    result.placed().size() + " from " + command.from() + " to " + command.to());
        }
        return shown(depot, command, result, taken);
    }

    /** Each by the days of its own plan; those that have the fewest to choose from choose first. */
    private static Spread.Result<Vehicle> placed(
            Map<Set<DayOfWeek>, List<Spread.Due<Vehicle>>> due,
            DepotView depot,
            SpreadInspections command,
            Map<LocalDate, Integer> taken) {
        var placed = new ArrayList<Spread.Placed<Vehicle>>();
        var left = new ArrayList<Vehicle>();
        var full = new HashMap<>(taken);
        due.entrySet().stream()
                .sorted(Comparator.comparing((Map.Entry<Set<DayOfWeek>, List<Spread.Due<Vehicle>>> each) ->
                                each.getKey().size())
                        .thenComparing(
                                each -> each.getKey().stream().sorted().toList().toString()))
                .forEach(each -> {
                    var result = new Spread<Vehicle>(
                                    command.from(),
                                    command.to(),
                                    day -> each.getKey().contains(day.getDayOfWeek()) && depot.isOpenOn(day),
                                    command.mostPerDay(),
                                    full)
                            .place(each.getValue());
                    result.placed().forEach(one -> full.merge(one.on(), 1, Integer::sum));
                    placed.addAll(result.placed());
                    left.addAll(result.left());
                });
        return new Spread.Result<>(placed, left);
    }

    private static SpreadDays shown(
            DepotView depot, SpreadInspections command, Spread.Result<Vehicle> result, Map<LocalDate, Integer> taken) {
        var days = new TreeMap<LocalDate, List<Vehicle>>();
        taken.keySet().stream()
                .filter(day -> !day.isAfter(command.to()))
                .forEach(day -> days.put(day, new ArrayList<>()));
        result.placed()
                .forEach(each -> days.computeIfAbsent(each.on(), day -> new ArrayList<>())
                        .add(new Vehicle(
                                each.what().inspection(),
                                each.what().registration(),
                                each.what().dueOn(),
                                each.late())));
        return new SpreadDays(
                depot.id(),
                days.entrySet().stream()
                        .map(day ->
                                new SpreadDays.Day(day.getKey(), taken.getOrDefault(day.getKey(), 0), day.getValue()))
                        .toList(),
                result.left(),
                Boolean.TRUE.equals(command.keep()));
    }

    private void keep(List<Spread.Placed<Vehicle>> placed) {
        var byDay = new TreeMap<LocalDate, List<UUID>>();
        placed.forEach(each -> byDay.computeIfAbsent(each.on(), day -> new ArrayList<>())
                .add(each.what().inspection()));
        byDay.forEach((day, ids) -> jdbc.sql("""
            update inspection set planned_on = :day, version = version + 1
            where tenant_id = :organisation and id in (select unnest(cast(:ids as uuid[]))) and done_at is null\
            """)
                .param("day", day)
                .param("organisation", organisation())
                .param("ids", Ids.array(ids))
                .update());
    }

    /**
     * What waits at a depot, or at all of them, as a calendar file: each on the day it is planned for, else on the day it
     * is due. Of more than 2000 the first, and the file says how many it leaves out.
     */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public String calendar(@Nullable UUID depot, String address) {
        var name = depot == null
                ? "Inspections"
                : "Inspections, " + depots.depot(depot).name();
        var file = new CalendarFile(name, clock.instant());
        jdbc.sql("""
            select i.id, v.registration, v.make_model, v.category, d.name, d.address, i.due_on, i.planned_on,
                i.version, p.name as plan_name
            from inspection i
            join vehicle v on v.tenant_id = i.tenant_id and v.id = i.vehicle_id
            join depot d on d.tenant_id = v.tenant_id and d.id = v.depot_id
            left join inspection_plan p on p.tenant_id = i.tenant_id and p.id = i.plan_id
            where i.tenant_id = :organisation and i.done_at is null and v.retired_at is null
                and (cast(:depot as uuid) is null or v.depot_id = :depot)
            order by i.due_on, i.id limit :most\
            """)
                .param("organisation", organisation())
                .param("depot", depot)
                .param("most", IN_A_CALENDAR)
                .query(row -> {
                    var planned = row.getObject("planned_on", LocalDate.class);
                    var due = row.getObject("due_on", LocalDate.class);
                    var id = row.getString("id");
                    file.day(
                            id + "@quarterlight",
                            row.getInt("version"),
                            planned == null ? due : planned,
                            "Inspect " + row.getString("registration"),
                            row.getString("name")
                                    + (row.getString("address").isEmpty() ? "" : ", " + row.getString("address")),
                            (row.getString("make_model") + " " + row.getString("category")).trim() + "\nDue on " + due
                                    + (row.getString("plan_name") == null
                                            ? ""
                                            : "\nPlan: " + row.getString("plan_name")),
                            address + "/inspections/" + id);
                });
        var all = waiting(depot);
        if (all > IN_A_CALENDAR) {
            file.day(
                    "left-out@quarterlight",
                    // Never less than before, or a calendar keeps the number that it has.
                    Math.toIntExact(clock.instant().getEpochSecond() / 60),
                    LocalDate.ofInstant(clock.instant(), ZoneOffset.UTC),
                    (all - IN_A_CALENDAR) + " more inspections wait than this calendar shows",
                    "",
                    "It shows the " + IN_A_CALENDAR + " that fall due first."
                            + (depot == null ? " A calendar of one depot may show all of that depot's." : ""),
                    address + "/inspections");
        }
        return file.text();
    }

    private long waiting(@Nullable UUID depot) {
        return jdbc.sql("""
            select count(*) from inspection i join vehicle v on v.tenant_id = i.tenant_id and v.id = i.vehicle_id
            where i.tenant_id = :organisation and i.done_at is null and v.retired_at is null
                and (cast(:depot as uuid) is null or v.depot_id = :depot)\
            """)
                .param("organisation", organisation())
                .param("depot", depot)
                .query(Long.class)
                .single();
    }

    /**
     * Makes an address at which a calendar program finds {@link #calendar} for a year, without signing in.
     *
     * @param address of this service, without a slash at its end
     */
    @Transactional
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public CalendarAddress calendarAddress(@Nullable UUID depot, String address) {
        if (depot != null) {
            depots.depot(depot);
        }
        var key = tokens.createForCalendar("Calendar of inspections");
        return new CalendarAddress(
                key.id(),
                URI.create(address + "/calendars/" + key.secret() + ".ics" + (depot == null ? "" : "?depot=" + depot)),
                key.expiresAt());
    }

    private DepotView checked(SpreadInspections command) {
        if (command.to().isBefore(command.from())) {
            throw new Invalid("to", "The last day is not before the first");
        }
        if (ChronoUnit.DAYS.between(command.from(), command.to()) >= DAYS_AT_MOST) {
            throw new Invalid("to", "At most " + DAYS_AT_MOST + " days are planned at once");
        }
        DepotView depot;
        try {
            depot = depots.depot(command.depot());
        } catch (DepotNotFound e) {
            throw new Invalid("depot", "There is no such depot");
        }
        if (command.from().isBefore(LocalDate.now(clock.withZone(depot.zone())))) {
            throw new Invalid("from", "This day has passed");
        }
        return depot;
    }

    private static UUID organisation() {
        return Tenants.require().value();
    }
}
