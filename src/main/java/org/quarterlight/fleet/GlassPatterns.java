package org.quarterlight.fleet;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import jakarta.validation.Valid;
import java.sql.Array;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.GlassMeasurements;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.KnownLength;
import org.quarterlight.glass.PicturePlace;
import org.quarterlight.glass.PictureScale;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.TracedOutline;
import org.quarterlight.glass.VehicleCategory;
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
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;
import tools.jackson.databind.json.JsonMapper;

/** The geometries that an organisation's windscreens have. A version never changes; a correction is the next one. */
@Service
@Validated
public class GlassPatterns {
    /** Who makes what no person made. */
    private static final String NOBODY = "Quarterlight";

    private static final double WIDEST_PICTURE_PX = 100_000;

    private static final String COLUMNS =
            "p.id, p.name, p.generic, p.latest, p.version, n.measurements, n.trace, n.assumed, n.made_at, n.made_by";
    private static final String FROM = """
        glass_pattern p join glass_pattern_version n
            on n.tenant_id = p.tenant_id and n.pattern_id = p.id and n.number = p.latest\
        """;
    private static final ListQuery.Order BY_NAME =
            ListQuery.Order.ascending("name", new ListQuery.Key("p.name", "text"), new ListQuery.Key("p.id", "uuid"));

    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final PatternPictures pictures;
    private final History history;
    private final ApplicationEventPublisher events;
    private final Clock clock;
    private final Cache<Version, GlassPattern> drawn =
            Caffeine.newBuilder().maximumSize(2000).build();

    GlassPatterns(
            JdbcClient jdbc,
            JsonMapper json,
            PatternPictures pictures,
            History history,
            ApplicationEventPublisher events,
            Clock clock) {
        this.jdbc = jdbc;
        this.json = json;
        this.pictures = pictures;
        this.history = history;
        this.events = events;
        this.clock = clock;
    }

    /** One version of a pattern, of the present organisation. */
    record Version(UUID pattern, int number) {}

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public Slice<PatternView> list(SliceRequest wanted) {
        return new ListQuery(COLUMNS, FROM)
                .where(
                        "p.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .where("p.retired_at is null")
                .slice(jdbc, BY_NAME, wanted, this::view);
    }

    /** Also one that is retired, for the glasses that have it. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public PatternView read(UUID id) {
        return pattern(id);
    }

    /** The same for other services, which have asked who may see it. */
    @Transactional(readOnly = true)
    public PatternView pattern(UUID id) {
        return jdbc.sql("select " + COLUMNS + " from " + FROM + " where p.tenant_id = :organisation and p.id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query(this::view)
                .optional()
                .orElseThrow(() -> new PatternNotFound(id));
    }

    /** The geometry of one version, drawn once. */
    @Transactional(readOnly = true)
    public GlassPattern drawn(UUID id, int number) {
        var version = new Version(id, number);
        var known = drawn.getIfPresent(version);
        // Asked of the database even when it is known here: another organisation's pattern is not there to be had.
        var measurements = jdbc.sql("""
            select measurements from glass_pattern_version
            where tenant_id = :organisation and pattern_id = :id and number = :number\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .param("number", number)
                .query(String.class)
                .optional()
                .orElseThrow(() -> new PatternNotFound(id));
        if (known != null) {
            return known;
        }
        return drawn.get(version, absent -> GlassPattern.of(json.readValue(measurements, GlassMeasurements.class)));
    }

    /** The geometries of versions that were just read from the organisation's own rows. */
    Map<Version, GlassPattern> drawn(Set<Version> versions) {
        var all = new HashMap<Version, GlassPattern>(drawn.getAllPresent(versions));
        var missing =
                versions.stream().filter(version -> !all.containsKey(version)).toList();
        if (!missing.isEmpty()) {
            jdbc.sql("""
                select pattern_id, number, measurements from glass_pattern_version
                where tenant_id = :organisation and pattern_id in (:patterns)\
                """)
                    .param("organisation", Tenants.require().value())
                    .param(
                            "patterns",
                            missing.stream().map(Version::pattern).distinct().toList())
                    .query(row -> {
                        var version = new Version(row.getObject("pattern_id", UUID.class), row.getInt("number"));
                        if (versions.contains(version)) {
                            var measurements = json.readValue(row.getString("measurements"), GlassMeasurements.class);
                            var pattern = GlassPattern.of(measurements);
                            drawn.put(version, pattern);
                            all.put(version, pattern);
                        }
                    });
        }
        return all;
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public PatternView create(@Valid SavePattern command) {
        var measurements = checked(command);
        var id = Ids.next(clock.instant());
        insert(id, command.name().trim(), null, measurements, command.trace(), command.assumed());
        history.add("made", "glass pattern", id, command.name().trim());
        return pattern(id);
    }

    /** Corrects a pattern. Glasses fitted from now on get the new version, and those that carry it now. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public PatternView correct(UUID id, @Valid SavePattern command, int version) {
        var measurements = checked(command);
        var name = command.name().trim();
        var before = locked(id);
        Stale.check("The glass pattern", version, before.version());
        if (before.generic()) {
            throw new PatternGeneric(before.name());
        }
        var number = before.patternVersion() + 1;
        insertVersion(id, number, measurements, command.trace(), command.assumed(), person());
        jdbc.sql("""
            update glass_pattern set name = :name, latest = :number, version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("name", name)
                .param("number", number)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .update();
        correctFitted(id, number);
        history.add("corrected", "glass pattern", id, name);
        return pattern(id);
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public void retire(UUID id, int version) {
        var before = locked(id);
        Stale.check("The glass pattern", version, before.version());
        if (before.generic()) {
            throw new PatternGeneric(before.name());
        }
        jdbc.sql("""
            update glass_pattern set retired_at = coalesce(retired_at, :now), version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .update();
        history.add("retired", "glass pattern", id, before.name());
    }

    /** The newest version of a pattern that glass may be given; one out of use only where the glass before had it. */
    int fitting(UUID id, @Nullable UUID before) {
        var found = pattern(id);
        var retired = jdbc.sql("""
            select from glass_pattern where tenant_id = :organisation and id = :id and retired_at is not null\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query((row, number) -> true)
                .optional();
        if (retired.isPresent() && !id.equals(before)) {
            throw new Invalid("pattern", found.name() + " is out of use");
        }
        return found.patternVersion();
    }

    private PatternView locked(UUID id) {
        Locks.row(jdbc, "glass_pattern", id);
        return pattern(id);
    }

    /** Glass that is fitted now was measured wrongly, so it gets the new version, and its open damages are judged again. */
    private void correctFitted(UUID pattern, int number) {
        record Fitted(UUID vehicle, UUID windscreen) {}
        jdbc
                .sql("""
                    update windscreen w set pattern_number = :number
                    from vehicle_condition c
                    where w.tenant_id = :organisation and w.pattern_id = :pattern and w.removed_on is null
                        and c.tenant_id = w.tenant_id and c.vehicle_id = w.vehicle_id
                    returning w.vehicle_id, w.id, c.open_count\
                    """)
                .param("number", number)
                .param("organisation", Tenants.require().value())
                .param("pattern", pattern)
                .query((row, at) -> row.getInt("open_count") == 0
                        ? Optional.<Fitted>empty()
                        : Optional.of(
                                new Fitted(row.getObject("vehicle_id", UUID.class), row.getObject("id", UUID.class))))
                .list()
                .stream()
                .flatMap(Optional::stream)
                .forEach(each ->
                        events.publishEvent(new GlassCorrected(Tenants.require(), each.vehicle(), each.windscreen())));
    }

    /** The pattern that a vehicle of this category most likely has, until somebody measures its own. */
    UUID genericFor(VehicleCategory category, SteeringSide side) {
        var key = key(GenericGlass.of(category), side);
        return generic(key).orElseGet(() -> {
            makeGeneric();
            return generic(key).orElseThrow();
        });
    }

    /** Makes the patterns that a fleet begins with, those that are missing: with its first depot, so that no reading writes. */
    void makeGeneric() {
        if (keysOfGeneric().size() == GenericGlass.values().length * SteeringSide.values().length) {
            return;
        }
        Locks.work(jdbc, "generic");
        var present = keysOfGeneric();
        for (var glass : GenericGlass.values()) {
            for (var side : SteeringSide.values()) {
                if (!present.contains(key(glass, side))) {
                    var words = side == SteeringSide.LEFT ? "steered left" : "steered right";
                    insert(
                            Ids.next(clock.instant()),
                            glass.title() + ", " + words,
                            key(glass, side),
                            glass.measurements(side),
                            null,
                            null);
                }
            }
        }
    }

    private static String key(GenericGlass glass, SteeringSide side) {
        return glass.name() + "_" + side.name();
    }

    private Optional<UUID> generic(String key) {
        return jdbc.sql("select id from glass_pattern where tenant_id = :organisation and generic = :generic")
                .param("organisation", Tenants.require().value())
                .param("generic", key)
                .query(UUID.class)
                .optional();
    }

    private Set<String> keysOfGeneric() {
        return Set.copyOf(
                jdbc.sql("select generic from glass_pattern where tenant_id = :organisation and generic is not null")
                        .param("organisation", Tenants.require().value())
                        .query(String.class)
                        .list());
    }

    private void insert(
            UUID id,
            String name,
            @Nullable String generic,
            GlassMeasurements measurements,
            @Nullable PatternTrace trace,
            @Nullable Set<ToldLength> assumed) {
        jdbc.sql("""
            insert into glass_pattern (tenant_id, id, name, generic, latest, version)
            values (:organisation, :id, :name, :generic, 1, 0)\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .param("name", name)
                .param("generic", generic)
                .update();
        insertVersion(id, 1, measurements, trace, assumed, generic == null ? person() : NOBODY);
    }

    private void insertVersion(
            UUID id,
            int number,
            GlassMeasurements measurements,
            @Nullable PatternTrace trace,
            @Nullable Set<ToldLength> assumed,
            String by) {
        jdbc.sql("""
            insert into glass_pattern_version (tenant_id, pattern_id, number, measurements, traced_over, trace, assumed,
                made_at, made_by)
            values (:organisation, :id, :number, cast(:measurements as jsonb), :picture, cast(:trace as jsonb),
                cast(:assumed as text[]), :now, :by)\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .param("number", number)
                .param("measurements", json.writeValueAsString(measurements))
                .param("picture", trace == null ? null : trace.picture())
                .param("trace", trace == null ? null : json.writeValueAsString(trace))
                .param(
                        "assumed",
                        assumed == null
                                ? null
                                : assumed.stream()
                                        .sorted()
                                        .map(ToldLength::name)
                                        .toArray(String[]::new))
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("by", by)
                .update();
    }

    private static String person() {
        return Acting.current().map(Acting::name).orElse(NOBODY);
    }

    /** Corners pointed at on a picture, in millimetres of the glass frame; kept nowhere. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('MANAGER')")
    public TraceView trace(@Valid TraceOutline command) {
        if (command.corners().size() < TracedOutline.FEWEST_CORNERS) {
            throw new Invalid("corners", "Point at " + TracedOutline.FEWEST_CORNERS + " corners at least");
        }
        check("", command.picture(), command.across(), command.up());
        if (command.corners().stream().anyMatch(GlassPatterns::isOffAnyPicture)) {
            throw new Invalid("corners", "One of these corners is off the picture");
        }
        var scale = PictureScale.of(command.across(), command.up(), new PicturePlace(0, 0));
        var corners = command.corners().stream().map(scale::toGlass).toList();
        var frame = scale.movedBy(TracedOutline.aside(corners));
        var placed = TracedOutline.placed(corners, 0).corners();
        return new TraceView(
                new TracedOutline(placed, frame.standardUncertaintyMm(placed, command.from())),
                new PatternTrace(command.picture(), command.from(), command.across(), command.up(), frame.origin()));
    }

    private static boolean isOffAnyPicture(PicturePlace place) {
        return !(Math.abs(place.xPx()) <= WIDEST_PICTURE_PX && Math.abs(place.yPx()) <= WIDEST_PICTURE_PX);
    }

    /** What is kept of the command: how well a traced outline is known follows from how it was traced. */
    private GlassMeasurements checked(SavePattern command) {
        var measurements = command.measurements();
        var trace = command.trace();
        var outline = measurements.outline();
        if (trace != null) {
            if (outline == null) {
                throw new Invalid("trace", "Belongs to an outline. Give both, or neither.");
            }
            check("trace.", trace.picture(), trace.across(), trace.up());
            measurements = measurements.traced(new TracedOutline(
                    outline.corners(), trace.scale().standardUncertaintyMm(outline.corners(), trace.from())));
        }
        if (outline != null && command.assumed() == null) {
            throw new Invalid(
                    "assumed",
                    "The outline does not tell rake, wheel, eye, edge-band, wipers and camera-area. Name those that are"
                            + " taken from another glass; an empty list says that all were measured");
        }
        measurements.problems().stream().findFirst().ifPresent(problem -> {
            throw new Invalid("measurements." + problem.field(), problem.message());
        });
        return measurements;
    }

    private void check(String path, UUID picture, KnownLength across, KnownLength up) {
        var found = pictures.find(picture)
                .orElseThrow(() -> new Invalid(path + "picture", "There is no such picture. Send it first."));
        PictureScale.problems(across, up).stream().findFirst().ifPresent(problem -> {
            throw new Invalid(path + problem.field(), problem.message());
        });
        for (var length : List.of(across, up)) {
            if (!found.holds(length)) {
                throw new Invalid(path + (length.equals(across) ? "across" : "up"), "Both ends lie on the picture");
            }
        }
    }

    private PatternView view(ResultSet row, int number) throws SQLException {
        return new PatternView(
                row.getObject("id", UUID.class),
                row.getString("name"),
                row.getString("generic") != null,
                row.getInt("latest"),
                json.readValue(Objects.requireNonNull(row.getString("measurements")), GlassMeasurements.class),
                trace(row.getString("trace")),
                assumed(row.getArray("assumed")),
                row.getObject("made_at", OffsetDateTime.class).toInstant(),
                row.getString("made_by"),
                row.getInt("version"));
    }

    private static @Nullable List<ToldLength> assumed(@Nullable Array kept) throws SQLException {
        return kept == null
                ? null
                : Stream.of((String[]) kept.getArray()).map(ToldLength::valueOf).toList();
    }

    private @Nullable PatternTrace trace(@Nullable String text) {
        return text == null ? null : json.readValue(text, PatternTrace.class);
    }

    /** All in use, for a choice in a form. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public List<PatternView> all() {
        return list(SliceRequest.most()).items();
    }
}
