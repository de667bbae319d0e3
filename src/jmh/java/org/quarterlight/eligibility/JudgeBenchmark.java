package org.quarterlight.eligibility;

import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LineString;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.infra.Blackhole;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.Measured;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/**
 * Full verdicts beside nothing but the exact JTS distances of the same damages to the same zones, on the generic
 * coach's glass. Aim: at most 1.5 times.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
public class JudgeBenchmark {
    private static final int CASES = 1000;
    private static final GeometryFactory GEOMETRY = new GeometryFactory();
    private static final Instant NOW = Instant.parse("2026-11-25T09:30:00Z");

    /** A disc about a place, or a star whose six legs somebody drew. */
    @Param({"disc", "star"})
    private String shape = "disc";

    private final List<List<DamageFacts>> damages = new ArrayList<>();
    private final List<Geometry> bare = new ArrayList<>();
    private final List<Geometry> borders = new ArrayList<>();
    private GlassJudge judge = new GlassJudge(glazing(), List.of(), Choices.standard());

    @Setup
    public void draw() {
        var sheets = Sheets.shipped().stream()
                .filter(sheet -> "GB".equals(sheet.country()) || sheet.id().equals("common-practice-repair"))
                .toList();
        judge = new GlassJudge(glazing(), sheets, Choices.standard());
        zonesOf(sheets).forEach(zone -> borders.add(zone.getBoundary()));
        var random = new Random(20261125);
        for (var i = 0; i < CASES; i++) {
            var place = new Coordinate(random.nextDouble(-1000, 1000), random.nextDouble(100, 900));
            var drawn = shape.equals("disc") ? disc(place, random.nextDouble(4, 40)) : star(place, random);
            damages.add(List.of(facts(i, drawn, random.nextDouble(4, 40))));
            bare.add(Place.of(drawn).lines());
        }
    }

    /** Each different zone that the sheets' rules ask for on this glass, once. */
    private static List<Geometry> zonesOf(List<Sheet> sheets) {
        var areas = new Areas(glazing());
        var zones = new ArrayList<Geometry>();
        for (var sheet : sheets) {
            for (var rule : sheet.rules()) {
                var where = rule.where() == null ? Zone.WHOLE_GLASS : rule.where();
                if (sheet.appliesTo(glazing().vehicle())
                        && !zones.contains(areas.zone(sheet, where).geometry())) {
                    zones.add(areas.zone(sheet, where).geometry());
                }
            }
        }
        return zones;
    }

    @Benchmark
    @OperationsPerInvocation(CASES)
    public void bareDistances(Blackhole sink) {
        for (var geometry : bare) {
            for (var border : borders) {
                sink.consume(border.distance(geometry));
            }
        }
    }

    @Benchmark
    @OperationsPerInvocation(CASES)
    public void fullVerdicts(Blackhole sink) {
        for (var damage : damages) {
            sink.consume(judge.judge(damage, NOW));
        }
    }

    private static DamageFacts facts(int number, DamageShape shape, double diameterMm) {
        return new DamageFacts(
                new UUID(1, number),
                new UUID(2, number),
                DamageKind.STAR_BREAK,
                shape,
                1,
                new Measured(diameterMm, 0.3),
                new Measured(3, 0.3),
                new Measured(diameterMm / 2, 0.3),
                Layers.OUTER,
                Condition.CLEAN_DRY,
                false,
                null,
                LocalDate.of(2026, 11, 25));
    }

    private static Glazing glazing() {
        var pattern = GlassPattern.of(GenericGlass.COACH.measurements(SteeringSide.RIGHT));
        return new Glazing(
                pattern, new PatternReference("coach", 1, false), new VehicleFacts(VehicleCategory.M3, 18000.0));
    }

    private static DamageShape disc(Coordinate place, double diameterMm) {
        return DamageShape.round(place.x, place.y, diameterMm);
    }

    private static DamageShape star(Coordinate place, Random random) {
        var legs = new LineString[6];
        for (var i = 0; i < legs.length; i++) {
            var turn = Math.PI / 3 * i;
            var length = random.nextDouble(4, 20);
            var tip = new Coordinate(place.x + length * Math.cos(turn), place.y + length * Math.sin(turn));
            legs[i] = GEOMETRY.createLineString(new Coordinate[] {place, tip});
        }
        return new DamageShape(place.x, place.y, 40, GEOMETRY.createMultiLineString(legs));
    }
}
