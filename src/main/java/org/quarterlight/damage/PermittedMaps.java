package org.quarterlight.damage;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.PermittedMap.Asked;
import org.quarterlight.eligibility.Eligibility;
import org.quarterlight.eligibility.Glazing;
import org.quarterlight.eligibility.PatternReference;
import org.quarterlight.eligibility.Permitted;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.PatternView;
import org.quarterlight.glass.DrawnZone;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.rulebook.SheetNotFound;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Maps of a glass without damages: where one of a kind and size might be repaired, by a sheet or by those chosen. */
@Service
public class PermittedMaps {
    private static final double LARGEST_MM = 4000;

    private final GlassPatterns patterns;
    private final Rulebook rulebook;
    private final JdbcClient jdbc;

    PermittedMaps(GlassPatterns patterns, Rulebook rulebook, JdbcClient jdbc) {
        this.patterns = patterns;
        this.rulebook = rulebook;
        this.jdbc = jdbc;
    }

    private record Home(
            VehicleFacts vehicle, String country, @Nullable String subdivision) {}

    /** A map and the drawing that it is to be shown on. */
    public record Drawn(PermittedMap map, PatternView pattern, GlassDrawing drawing) {}

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public Drawn of(UUID pattern, Asked asked) {
        var found = patterns.read(pattern);
        if (asked.kind() == null) {
            throw new Invalid("kind", "Say what kind of damage");
        }
        var diameterMm = asked.diameterMm();
        if (diameterMm == null || !(diameterMm > 0 && diameterMm <= LARGEST_MM)) {
            throw new Invalid("diameterMm", "Give its size: more than 0 and at most 4000 mm");
        }
        var home = home(found, asked.category());
        var sheets = sheets(home, asked.ruleSheet());
        var glass = patterns.drawn(pattern, found.patternVersion());
        var glazing = new Glazing(
                glass,
                new PatternReference(pattern.toString(), found.patternVersion(), found.generic()),
                home.vehicle());
        var permitted = Eligibility.permitted(glazing, asked.kind(), diameterMm, List.of(), sheets);
        var map = new PermittedMap(
                pattern,
                asked.kind(),
                diameterMm,
                home.vehicle().category(),
                sheets.stream().map(Sheet::reference).toList(),
                permitted.shareOfWipedArea(),
                permitted.taken(),
                permitted.leftOut());
        return new Drawn(map, found, drawing(glass, glazing, sheets, permitted).title(title(map, found)));
    }

    private static String title(PermittedMap map, PatternView pattern) {
        var size = BigDecimal.valueOf(map.diameterMm()).stripTrailingZeros().toPlainString();
        return pattern.name() + ": where a " + map.kind().spoken() + " of " + size + " mm may be repaired, "
                + map.share();
    }

    private static GlassDrawing drawing(GlassPattern glass, Glazing glazing, List<Sheet> sheets, Permitted permitted) {
        var zones = new ArrayList<DrawnZone>();
        var band = glass.measurements().edgeBandMm();
        if (band > 0) {
            zones.add(new DrawnZone(DrawnZone.EDGE_BAND, "edge band " + Math.round(band), glass.edgeBand(band)));
        }
        Eligibility.driversZoneWidthMm(glazing, sheets)
                .ifPresent(width -> zones.add(new DrawnZone(
                        DrawnZone.DRIVERS_ZONE, "driver's zone " + Math.round(width), glass.driversZone(width))));
        return GlassDrawing.of(glass).zones(zones).permitted(permitted.places());
    }

    private List<Sheet> sheets(Home home, @Nullable String id) {
        if (id == null || id.isBlank()) {
            return rulebook.sheetsFor(home.vehicle(), home.country(), home.subdivision()).stream()
                    .filter(sheet -> sheet.question() == Question.REPAIRABLE)
                    .toList();
        }
        var sheet = sheet(id);
        if (sheet.question() != Question.REPAIRABLE) {
            throw new Invalid("ruleSheet", sheet.name() + " does not say what may be repaired");
        }
        if (!sheet.appliesTo(home.vehicle())) {
            throw new Invalid(
                    "ruleSheet",
                    sheet.name() + " is not for vehicles of category "
                            + home.vehicle().category());
        }
        return List.of(sheet);
    }

    private Sheet sheet(String id) {
        try {
            return rulebook.sheet(id);
        } catch (SheetNotFound e) {
            throw new Invalid("ruleSheet", "There is no such rule sheet");
        }
    }

    /** Whose rules hold: those of a vehicle that carries the glass, else of one that would, in the first depot. */
    private Home home(PatternView pattern, @Nullable VehicleCategory wanted) {
        var home = jdbc.sql("""
            select v.category, v.max_mass_kg, d.country, d.subdivision
            from windscreen w
            join vehicle v on v.tenant_id = w.tenant_id and v.id = w.vehicle_id
            join depot d on d.tenant_id = v.tenant_id and d.id = v.depot_id
            where w.tenant_id = :organisation and w.pattern_id = :pattern and w.removed_on is null
            order by w.made_at desc, w.id desc limit 1\
            """)
                .param("organisation", Tenants.require().value())
                .param("pattern", pattern.id())
                .query((row, number) -> home(row, VehicleCategory.valueOf(row.getString("category"))))
                .optional()
                .or(() -> jdbc.sql("""
                    select null::int as max_mass_kg, country, subdivision from depot
                    where tenant_id = :organisation order by id limit 1\
                    """)
                        .param("organisation", Tenants.require().value())
                        .query((row, number) -> home(row, usual(pattern)))
                        .optional())
                .orElseGet(() -> new Home(new VehicleFacts(usual(pattern), null), "", null));
        return wanted == null || wanted == home.vehicle().category()
                ? home
                : new Home(new VehicleFacts(wanted, null), home.country(), home.subdivision());
    }

    /** The first category whose generic glass is as wide or wider. */
    private static VehicleCategory usual(PatternView pattern) {
        return Stream.of(VehicleCategory.M1, VehicleCategory.N1, VehicleCategory.N3, VehicleCategory.M3)
                .filter(category -> GenericGlass.of(category)
                                .measurements(SteeringSide.LEFT)
                                .lowerWidthMm()
                        >= pattern.measurements().lowerWidthMm())
                .findFirst()
                .orElse(VehicleCategory.M3);
    }

    private static Home home(ResultSet row, VehicleCategory category) throws SQLException {
        var massKg = row.getObject("max_mass_kg", Integer.class);
        return new Home(
                new VehicleFacts(category, massKg == null ? null : massKg.doubleValue()),
                row.getString("country"),
                row.getString("subdivision"));
    }
}
