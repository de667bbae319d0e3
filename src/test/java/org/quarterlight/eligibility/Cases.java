package org.quarterlight.eligibility;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.GeometryFactory;
import org.quarterlight.glass.CameraArea;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.GlassMeasurements;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.Measured;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.glass.Wiper;

/**
 * A plain glass whose distances can be told without a pencil: 1600 by 800 mm, swept by one wiper that pivots in the
 * corner at 700 mm left and 50 mm up from level to upright and beyond every edge; wheel 350 mm left of the middle.
 */
final class Cases {
    static final GeometryFactory GEOMETRY = new GeometryFactory();
    static final double WHEEL_X = -350;
    static final double WHEEL_TOP_Y = 100;
    static final Instant NOW = Instant.parse("2026-11-25T09:30:00Z");
    static final LocalDate TODAY = LocalDate.of(2026, 11, 25);

    private Cases() {}

    static GlassPattern pattern() {
        return GlassPattern.of(new GlassMeasurements(
                1600,
                1600,
                800,
                0,
                0,
                0,
                60,
                SteeringSide.RIGHT,
                -WHEEL_X,
                WHEEL_TOP_Y,
                -WHEEL_X,
                400,
                20,
                List.of(new Wiper(-700, 50, 0, 2500, 0, 90)),
                new CameraArea(0, 150, 150),
                Set.of()));
    }

    /** The glass that such a vehicle most likely has. */
    static Glazing generic(VehicleCategory category, SteeringSide side, double massKg) {
        return new Glazing(
                GlassPattern.of(GenericGlass.of(category).measurements(side)),
                new PatternReference("generic", 1, true),
                new VehicleFacts(category, massKg));
    }

    static Glazing glazing(VehicleCategory category, @Nullable Double massKg) {
        return new Glazing(
                pattern(),
                new PatternReference("a0000000-0000-7000-8000-000000000001", 3, false),
                new VehicleFacts(category, massKg));
    }

    static Glazing car() {
        return glazing(VehicleCategory.M1, 1900.0);
    }

    static Sheet sheet(String slug) {
        return Sheets.shipped().stream()
                .filter(sheet -> sheet.id().equals(slug))
                .findFirst()
                .orElseThrow();
    }

    /** A shipped sheet with one text in it put in place of another, wherever it stands. */
    static Sheet edited(String slug, String text, String replacement) {
        return Sheets.read(slug, Sheets.textOf(slug).replace(text, replacement));
    }

    static String acceptanceSheet() {
        return """
            {
              "id": "own-acceptance", "name": "Own acceptance", "version": 1, "question": "acceptable",
              "validFrom": "2026-01-01",
              "rules": [
                {
                  "rule": "finished-pit", "quantity": "pit-diameter", "bound": "at-most", "limitMm": 3,
                  "ifBroken": "no", "countsFinishedRepairs": true,
                  "source": { "document": "common practice, no source", "status": "common-practice" }
                }
              ]
            }
            """;
    }

    /** A crack drawn as one straight line. */
    static DamageFacts crack(double fromX, double fromY, double toX, double toY) {
        var length = Math.hypot(toX - fromX, toY - fromY);
        return damage(DamageKind.CRACK, (fromX + toX) / 2, (fromY + toY) / 2, length)
                .leg(length)
                .shaped(DamageShape.crack(new Coordinate(fromX, fromY), new Coordinate(toX, toY)))
                .facts();
    }

    static Damage damage(DamageKind kind, double xMm, double yMm, double diameterMm) {
        return new Damage(kind, xMm, yMm, diameterMm);
    }

    static Verdict judge(Glazing glazing, DamageFacts facts, Sheet... sheets) {
        return judgeAll(glazing, List.of(facts), sheets);
    }

    /** The first one's verdict. */
    static Verdict judgeAll(Glazing glazing, List<DamageFacts> damages, Sheet... sheets) {
        var verdicts = Eligibility.judge(glazing, damages, List.of(sheets), Choices.standard(), NOW);
        return verdicts.values().iterator().next();
    }

    /** A damage in the making: certain in all its lengths unless said otherwise, only the outer glass hit, clean and dry. */
    static final class Damage {
        private UUID id = new UUID(0x1L << 48 | 0x7000L, 0x8000000000000000L);
        private final DamageKind kind;
        private final double xMm;
        private final double yMm;
        private final double diameterMm;
        private double uncertaintyMm;
        private double placeUncertaintyMm;
        private @Nullable Double pitMm;
        private @Nullable Double legMm;
        private @Nullable Layers layers = Layers.OUTER;
        private @Nullable Condition condition = Condition.CLEAN_DRY;
        private boolean repaired;
        private @Nullable Grade found;
        private DamageFacts.@Nullable Finish finish;
        private @Nullable DamageShape shape;

        private Damage(DamageKind kind, double xMm, double yMm, double diameterMm) {
            this.kind = kind;
            this.xMm = xMm;
            this.yMm = yMm;
            this.diameterMm = diameterMm;
        }

        Damage numbered(int number) {
            id = new UUID(0x1L << 48 | 0x7000L, 0x8000000000000000L + number);
            return this;
        }

        Damage uncertain(double sizeMm, double placeMm) {
            uncertaintyMm = sizeMm;
            placeUncertaintyMm = placeMm;
            return this;
        }

        Damage pit(@Nullable Double mm) {
            pitMm = mm;
            return this;
        }

        Damage leg(@Nullable Double mm) {
            legMm = mm;
            return this;
        }

        Damage layers(@Nullable Layers hit) {
            layers = hit;
            return this;
        }

        Damage condition(@Nullable Condition seen) {
            condition = seen;
            return this;
        }

        Damage repaired() {
            repaired = true;
            return this;
        }

        Damage found(Grade grade) {
            found = grade;
            return this;
        }

        Damage finish(@Nullable Boolean level, @Nullable Boolean clear) {
            finish = new DamageFacts.Finish(level, clear);
            return this;
        }

        Damage shaped(DamageShape drawn) {
            shape = drawn;
            return this;
        }

        DamageFacts facts() {
            return new DamageFacts(
                    id,
                    new UUID(id.getMostSignificantBits(), id.getLeastSignificantBits() + 1000),
                    kind,
                    shape == null ? DamageShape.round(xMm, yMm, diameterMm) : shape,
                    placeUncertaintyMm,
                    new Measured(diameterMm, uncertaintyMm),
                    pitMm == null ? null : new Measured(pitMm, uncertaintyMm),
                    legMm == null ? null : new Measured(legMm, uncertaintyMm),
                    layers,
                    condition,
                    repaired,
                    found,
                    TODAY,
                    null,
                    null,
                    finish);
        }
    }
}
