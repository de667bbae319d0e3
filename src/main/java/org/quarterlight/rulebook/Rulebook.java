package org.quarterlight.rulebook;

import jakarta.validation.Valid;
import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Choices;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.SheetCopy;
import org.quarterlight.eligibility.SheetReference;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Money;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;
import tools.jackson.core.type.TypeReference;
import tools.jackson.databind.json.JsonMapper;

/** The rule sheets there are, and those that the present organisation judges by. */
@Service
@Validated
public class Rulebook {
    private static final List<Question> ASKED = List.of(Question.ROADWORTHY, Question.REPAIRABLE);

    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final History history;
    private final ApplicationEventPublisher events;
    private final SheetStore own;
    private final Clock clock;

    Rulebook(
            JdbcClient jdbc,
            JsonMapper json,
            History history,
            ApplicationEventPublisher events,
            SheetStore own,
            Clock clock) {
        this.own = own;
        this.clock = clock;
        this.jdbc = jdbc;
        this.json = json;
        this.history = history;
        this.events = events;
    }

    private record Decided(Choices choices, int version) {}

    /** All sheets that may be chosen: those that are shipped, then the organisation's own that judge already. */
    @Transactional(readOnly = true)
    public List<Sheet> sheets() {
        var all = new ArrayList<>(Sheets.shipped());
        var mine = own.all().stream().map(OwnSheet::id).distinct().toList();
        own.inForce(mine).values().stream()
                .sorted(Comparator.comparing(Sheet::name).thenComparing(Sheet::id))
                .forEach(all::add);
        return List.copyOf(all);
    }

    /** The sheet as it judges now; one of the organisation's own that does not yet, as it was written last. */
    @Transactional(readOnly = true)
    public Sheet sheet(String id) {
        return shipped(id).orElseGet(() -> present(id).sheet());
    }

    /** A sheet as a verdict named it. */
    @Transactional(readOnly = true)
    public Sheet sheet(SheetReference named) {
        return Sheets.version(named.id(), named.version())
                .or(() -> SheetStore.own(named.id())
                        .flatMap(sheet -> own.version(sheet, named.version()))
                        .filter(SheetReaders::maySee)
                        .map(OwnSheet::sheet))
                .orElseThrow(() -> new SheetNotFound(named.id()));
    }

    /** What the sheet says, JSON. */
    @Transactional(readOnly = true)
    public String text(String id) {
        return shipped(id)
                .map(sheet -> Sheets.textOf(sheet.id()))
                .orElseGet(() -> present(id).text());
    }

    private OwnSheet present(String id) {
        var versions =
                SheetReaders.visible(SheetStore.own(id).map(own::versions).orElse(List.of()));
        var now = clock.instant();
        return versions.stream()
                .filter(version -> version.applies(now))
                .findFirst()
                .or(() -> versions.stream().findFirst())
                .orElseThrow(() -> new SheetNotFound(id));
    }

    private static Optional<Sheet> shipped(String id) {
        return Sheets.shipped().stream().filter(sheet -> sheet.id().equals(id)).findFirst();
    }

    /**
     * The sheets by which a vehicle standing in this place is judged: those chosen for its category, else its country's.
     * Sheets that are not for the vehicle's mass take no part.
     */
    @Transactional(readOnly = true)
    public List<Sheet> sheetsFor(VehicleFacts vehicle, String country, @Nullable String subdivision) {
        return judging().sheetsFor(vehicle, country, subdivision);
    }

    /** Copies of the sheets by which a finished repair on such a vehicle is looked over, for whoever may not read them. */
    @Transactional(readOnly = true)
    public List<SheetCopy> acceptanceFor(VehicleFacts vehicle, String country, @Nullable String subdivision) {
        return judging().acceptanceFor(vehicle, country, subdivision).stream()
                .map(sheet -> new SheetCopy(
                        sheet.reference(),
                        shipped(sheet.id())
                                .map(each -> Sheets.textOf(each.id()))
                                .or(() -> SheetStore.own(sheet.id())
                                        .flatMap(id -> own.version(id, sheet.version()))
                                        .map(OwnSheet::text))
                                .orElseThrow(() -> new SheetNotFound(sheet.id()))))
                .toList();
    }

    /** What is chosen, read once for judging many vehicles. */
    @Transactional(readOnly = true)
    public Judging judging() {
        var chosen = chosenSheets();
        var ids = chosen.values().stream()
                .flatMap(List::stream)
                .map(SheetStore::own)
                .flatMap(Optional::stream)
                .distinct()
                .toList();
        var inForce = own.inForce(ids);
        var sheets = new EnumMap<VehicleCategory, List<Sheet>>(VehicleCategory.class);
        chosen.forEach((category, of) -> sheets.put(
                category,
                of.stream()
                        .map(id -> shipped(id)
                                .orElseGet(() ->
                                        SheetStore.own(id).map(inForce::get).orElseThrow(() -> new SheetNotFound(id))))
                        .toList()));
        return new Judging(sheets);
    }

    /**
     * A version of a sheet whose day has come judges from now on: where it is chosen, the fleet is told. Each is told once,
     * in the transaction that strikes it off the list.
     */
    @Transactional
    void begin() {
        Locks.work(jdbc, "rulebook");
        var begun = own.begun().stream().map(UUID::toString).toList();
        if (chosenSheets().values().stream().flatMap(List::stream).anyMatch(begun::contains)) {
            var decided = decided();
            keep(decided.choices());
            events.publishEvent(new RulesChosen(Tenants.require(), decided.version() + 1));
        }
    }

    /** How careful the organisation is, and how long each outcome may wait. */
    @Transactional(readOnly = true)
    public Choices choices() {
        return decided().choices();
    }

    /** How often the organisation has chosen. */
    @Transactional(readOnly = true)
    public int version() {
        return decided().version();
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public ChosenRules chosen() {
        var decided = decided();
        return new ChosenRules(chosenSheets(), decided.choices(), decided.version());
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public ChosenRules choose(@Valid ChooseRules command, int version) {
        Locks.work(jdbc, "rulebook");
        var before = decided();
        Stale.check("The choice of rules", version, before.version());
        keep(changed(before.choices(), command));
        if (command.sheets() != null) {
            command.sheets().forEach(this::chooseSheets);
        }
        history.add("chose", "rules", null, "");
        var chosen = chosen();
        events.publishEvent(new RulesChosen(Tenants.require(), chosen.version()));
        return chosen;
    }

    /** Each keeping moves the version on, by which judging anew knows whether it is still wanted. */
    private void keep(Choices after) {
        jdbc.sql("""
            insert into rulebook (tenant_id, accepted_risk_safety, accepted_risk_repair, leave_alone_pit_mm,
                replace_what_cannot_be_repaired, major_stands_down_for, days, version)
            values (:organisation, :safety, :repair, :pit, :replace, :categories, cast(:days as jsonb), 1)
            on conflict (tenant_id) do update set accepted_risk_safety = excluded.accepted_risk_safety,
                accepted_risk_repair = excluded.accepted_risk_repair,
                leave_alone_pit_mm = excluded.leave_alone_pit_mm,
                replace_what_cannot_be_repaired = excluded.replace_what_cannot_be_repaired,
                major_stands_down_for = excluded.major_stands_down_for, days = excluded.days,
                version = rulebook.version + 1\
            """)
                .param("organisation", Tenants.require().value())
                .param("safety", BigDecimal.valueOf(after.acceptedRiskForSafety()))
                .param("repair", BigDecimal.valueOf(after.acceptedRiskForRepair()))
                .param("pit", BigDecimal.valueOf(after.leaveAlonePitMm()))
                .param("replace", after.replaceWhatCannotBeRepaired())
                .param(
                        "categories",
                        after.majorStandsDownFor().stream()
                                .map(Enum::name)
                                .sorted()
                                .toArray(String[]::new))
                .param("days", json.writeValueAsString(after.daysByOutcome()))
                .update();
    }

    /** What a repair and a replacement cost, as the fleet reckons. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('MANAGER')")
    public CostRates costRates() {
        return jdbc.sql("select * from cost_rates where tenant_id = :organisation")
                .param("organisation", Tenants.require().value())
                .query((row, number) -> new CostRates(
                        new Money(row.getLong("repair_minor"), row.getString("currency")),
                        new Money(row.getLong("replacement_minor"), row.getString("currency")),
                        row.getInt("version")))
                .optional()
                .orElseGet(() -> new CostRates(null, null, 0));
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public CostRates reckonWith(@Valid SaveCostRates command, int version) {
        Locks.work(jdbc, "cost rates");
        Stale.check("What repairs cost", version, costRates().version());
        var currency = Money.currency("currency", command.currency());
        jdbc.sql("""
            insert into cost_rates (tenant_id, repair_minor, replacement_minor, currency, version)
            values (:organisation, :repair, :replacement, :currency, 1)
            on conflict (tenant_id) do update set repair_minor = excluded.repair_minor,
                replacement_minor = excluded.replacement_minor, currency = excluded.currency,
                version = cost_rates.version + 1\
            """)
                .param("organisation", Tenants.require().value())
                .param("repair", command.repairMinor())
                .param("replacement", command.replacementMinor())
                .param("currency", currency.getCurrencyCode())
                .update();
        return costRates();
    }

    private void chooseSheets(VehicleCategory category, List<String> ids) {
        var field = "sheets." + category;
        var sheets = ids.stream().distinct().map(id -> chosen(field, id)).toList();
        if (!sheets.isEmpty()) {
            for (var question : ASKED) {
                if (sheets.stream().noneMatch(sheet -> sheet.question() == question && isFor(sheet, category))) {
                    throw new Invalid(
                            field,
                            "Choose at least one sheet for " + category + " that says whether a vehicle is "
                                    + question.name().toLowerCase(Locale.ROOT));
                }
            }
        }
        jdbc.sql("delete from chosen_sheet where tenant_id = :organisation and category = :category")
                .param("organisation", Tenants.require().value())
                .param("category", category.name())
                .update();
        for (var sheet : sheets) {
            jdbc.sql("insert into chosen_sheet (tenant_id, category, sheet_id) values (:organisation,"
                            + " :category, :sheet)")
                    .param("organisation", Tenants.require().value())
                    .param("category", category.name())
                    .param("sheet", sheet.id())
                    .update();
        }
    }

    private Sheet chosen(String field, String id) {
        return shipped(id)
                .or(() -> SheetStore.own(id)
                        .flatMap(mine ->
                                Optional.ofNullable(own.inForce(List.of(mine)).get(mine))))
                .orElseThrow(() -> new Invalid(field, "There is no rule sheet " + id + " that judges already"));
    }

    private static boolean isFor(Sheet sheet, VehicleCategory category) {
        return sheet.appliesTo(new VehicleFacts(category, null));
    }

    private Map<VehicleCategory, List<String>> chosenSheets() {
        record Row(VehicleCategory category, String sheet) {}
        return jdbc
                .sql("select category, sheet_id from chosen_sheet where tenant_id = :organisation order by sheet_id")
                .param("organisation", Tenants.require().value())
                .query((row, number) ->
                        new Row(VehicleCategory.valueOf(row.getString("category")), row.getString("sheet_id")))
                .list()
                .stream()
                .collect(Collectors.groupingBy(
                        Row::category,
                        () -> new EnumMap<>(VehicleCategory.class),
                        Collectors.mapping(Row::sheet, Collectors.toList())));
    }

    private Decided decided() {
        return jdbc.sql("select * from rulebook where tenant_id = :organisation")
                .param("organisation", Tenants.require().value())
                .query(this::decided)
                .optional()
                .orElseGet(() -> new Decided(Choices.standard(), 0));
    }

    private Decided decided(ResultSet row, int number) throws SQLException {
        var categories = Arrays.stream(
                        (String[]) row.getArray("major_stands_down_for").getArray())
                .map(VehicleCategory::valueOf)
                .collect(Collectors.toSet());
        return new Decided(
                new Choices(
                        row.getBigDecimal("accepted_risk_safety").doubleValue(),
                        row.getBigDecimal("accepted_risk_repair").doubleValue(),
                        row.getBigDecimal("leave_alone_pit_mm").doubleValue(),
                        row.getBoolean("replace_what_cannot_be_repaired"),
                        categories,
                        json.readValue(row.getString("days"), new TypeReference<Map<Outcome, Integer>>() {})),
                row.getInt("version"));
    }

    private static Choices changed(Choices before, ChooseRules command) {
        var days = new EnumMap<Outcome, Integer>(before.daysByOutcome());
        if (command.daysByOutcome() != null) {
            days.putAll(command.daysByOutcome());
        }
        return new Choices(
                number(command.acceptedRiskForSafety(), before.acceptedRiskForSafety()),
                number(command.acceptedRiskForRepair(), before.acceptedRiskForRepair()),
                number(command.leaveAlonePitMm(), before.leaveAlonePitMm()),
                Objects.requireNonNullElse(command.replaceWhatCannotBeRepaired(), before.replaceWhatCannotBeRepaired()),
                Objects.requireNonNullElse(command.majorStandsDownFor(), before.majorStandsDownFor()),
                days);
    }

    private static double number(@Nullable BigDecimal given, double before) {
        return given == null ? before : given.doubleValue();
    }
}
