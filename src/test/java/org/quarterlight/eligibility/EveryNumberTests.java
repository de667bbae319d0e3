package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.DoubleFunction;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.locationtech.jts.geom.Coordinate;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.VehicleCategory;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ArrayNode;
import tools.jackson.databind.node.ObjectNode;

/**
 * That a table of boundary cases pins every number that is shipped: each number of each rule and of each zone is moved up and
 * down by a little, and some case must come out otherwise than it did.
 */
class EveryNumberTests {
    /** One case of a table: what is found of it by a sheet. */
    record Tried(String sheet, String rule, Function<Sheet, Result> result) {}

    private static final JsonMapper JSON = JsonMapper.builder().build();

    /** A little more than the tables step over a boundary by; of a width half lies on each side. */
    private static final double MOVED_MM = 0.05;

    private static final String LATER_WAY =
            "uk-goods-and-passenger-roadworthiness/zones/drivers-zone/1/vehicles/0/massUpToKg";

    private static final double HAIR = 0.02;
    private static final double WHEEL_X = Cases.WHEEL_X;
    /** Of the pattern that the cases lie on, written there. */
    private static final double EYE_X = -350;

    private static final double EYE_Y = 400;

    private static final Map<String, List<Tried>> CASES = Stream.of(
                    ShippedLimitsTests.cases().stream(),
                    RegionalLimitsTests.cases().stream(),
                    borders().flatMap(Border::tried))
            .flatMap(each -> each)
            .collect(Collectors.groupingBy(Tried::sheet));

    /**
     * Where a zone ends, where marks stop counting as one, and at which mass one zone takes another's place: what the tables of
     * limits leave. The damages are given by how far they lie from there, in mm.
     */
    private record Border(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            @Nullable Double massKg,
            DoubleFunction<List<DamageFacts>> damages,
            Result under,
            Result over) {
        Result result(double mm, Sheet by) {
            var glazing = Cases.glazing(category, massKg);
            var some = damages.apply(mm);
            var findings = by.question() == Question.ACCEPTABLE
                    ? Eligibility.on(glazing, List.of(by), Choices.standard())
                            .accept(some.getFirst().damage(), some)
                            .orElseThrow()
                            .findings()
                    : Cases.judgeAll(glazing, some, by).findings();
            return findings.stream()
                    .filter(finding -> finding.rule().equals(rule))
                    .map(Finding::result)
                    .findFirst()
                    .orElse(Result.YES);
        }

        Stream<Tried> tried() {
            return Stream.of(-HAIR, HAIR).map(mm -> new Tried(sheet, rule, by -> result(mm, by)));
        }

        @Override
        public String toString() {
            return source + " [" + sheet + " " + rule + ", " + category + " " + massKg + "]";
        }
    }

    private static Border leaving(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            @Nullable Double massKg,
            DoubleFunction<List<DamageFacts>> damages) {
        return new Border(source, sheet, rule, category, massKg, damages, Result.NO, Result.YES);
    }

    /** A mark to the right of a place, touching it at 0. */
    private static List<DamageFacts> rightOf(DamageKind kind, double xMm, double yMm, double diameterMm, double mm) {
        return List.of(
                Cases.damage(kind, xMm + diameterMm / 2 + mm, yMm, diameterMm).facts());
    }

    private static List<DamageFacts> above(DamageKind kind, double xMm, double yMm, double diameterMm, double mm) {
        return List.of(
                Cases.damage(kind, xMm, yMm + diameterMm / 2 + mm, diameterMm).facts());
    }

    /** Two marks so far from each other that the gap between them is this. */
    private static List<DamageFacts> pair(DamageKind kind, double xMm, double yMm, double diameterMm, double gapMm) {
        return List.of(
                Cases.damage(kind, xMm, yMm, diameterMm).facts(),
                Cases.damage(kind, xMm, yMm + diameterMm + gapMm, diameterMm)
                        .numbered(1)
                        .facts());
    }

    static Stream<Border> borders() {
        return Stream.of(zones(), masses(), together()).flatMap(List::stream);
    }

    private static List<Border> zones() {
        var m1 = VehicleCategory.M1;
        var all = new ArrayList<Border>();
        for (var heavy : List.of(false, true)) { // a level crack from one border of the driver's zone to the other
            all.add(new Border(
                    "common practice, no source: driver's zone of " + (heavy ? 350 : 290) + " mm",
                    "common-practice-roadworthiness",
                    "crack-across-drivers-zone",
                    heavy ? VehicleCategory.N3 : m1,
                    null,
                    mm -> List.of(Cases.damage(DamageKind.CRACK, WHEEL_X, 300, 400)
                            .shaped(DamageShape.crack(
                                    new Coordinate(WHEEL_X - (heavy ? 175 : 145) - mm, 300),
                                    new Coordinate(WHEEL_X + (heavy ? 175 : 145) + mm, 300)))
                            .facts()),
                    Result.YES,
                    Result.NO));
        }
        all.add(leaving(
                "NCT manual: zone A as in the UK test, 290 mm (ours)",
                "ie-cars-roadworthiness",
                "size-in-drivers-zone",
                m1,
                null,
                mm -> rightOf(DamageKind.STAR_BREAK, WHEEL_X + 145, 300, 22, mm)));
        all.add(leaving(
                "WV State Police: a letter sheet upright is 8.5 in wide (seen)",
                "us-west-virginia",
                "acute-area-is-free",
                m1,
                null,
                mm -> rightOf(DamageKind.PIT, EYE_X + 215.9 / 2, EYE_Y + 125, 4, mm)));
        all.add(leaving(
                "ROLAGS: DPVA of 12 in, 304.8 mm (memory)",
                "us-rolags-2014-finished",
                "finished-pit-in-viewing-area",
                m1,
                null,
                mm -> List.of(Cases.damage(DamageKind.STAR_BREAK, WHEEL_X + 152.4 + 10 + mm, 300, 20)
                        .pit(8.0)
                        .repaired()
                        .facts())));
        for (var upright : List.of(false, true)) {
            var width = upright ? 215.9 : 279.4;
            var height = upright ? 279.4 : 215.9;
            all.add(leaving(
                    "older advice: letter sheet, width (secondary)",
                    "us-older-association-advice",
                    "size-in-acute-area",
                    m1,
                    null,
                    mm -> rightOf(DamageKind.STAR_BREAK, EYE_X + width / 2, EYE_Y + (upright ? 130 : 0), 30, mm)));
            all.add(leaving(
                    "older advice: letter sheet, height (secondary)",
                    "us-older-association-advice",
                    "size-in-acute-area",
                    m1,
                    null,
                    mm -> above(DamageKind.STAR_BREAK, EYE_X + (upright ? 0 : 130), EYE_Y + height / 2, 30, mm)));
        }
        for (var sheet : List.of("100-headrest", "100-wheel", "350-headrest", "350-wheel")) {
            var id = "as-nzs-2366-1-crack-" + sheet;
            var rule = "star-inside-critical-vision-area";
            all.add(leaving(
                    "AS/NZS 2366.1: 150 mm each side (secondary)",
                    id,
                    rule,
                    m1,
                    null,
                    mm -> rightOf(DamageKind.STAR_BREAK, WHEEL_X + 150, 300, 20, mm)));
            all.add(leaving(
                    "AS/NZS 2366.1: from 90 mm below the top (secondary)",
                    id,
                    rule,
                    m1,
                    null,
                    mm -> above(DamageKind.STAR_BREAK, WHEEL_X, 800 - 90, 20, mm)));
            all.add(leaving(
                    "AS/NZS 2366.1: to 65 mm above the bottom (secondary)",
                    id,
                    rule,
                    m1,
                    null,
                    mm -> above(DamageKind.STAR_BREAK, WHEEL_X, 65 - 20 - mm, 20, 0)));
        }
        all.add(new Border(
                "NHVIM s. 10: a crack of 40 mm that ends at the edge is no hairline (memory)",
                "au-heavy-recalled",
                "hairline-crack-in-area-a",
                VehicleCategory.N3,
                null,
                mm -> List.of(Cases.damage(DamageKind.CRACK, -300, 780, 40 + mm)
                        .shaped(DamageShape.crack(new Coordinate(-300, 800), new Coordinate(-300, 760 - mm)))
                        .facts()),
                Result.YES,
                Result.YES));
        return all;
    }

    /** Above 3.5 t the driver's zone is wider: between the two borders a mark lies in one and not in the other. */
    private static List<Border> masses() {
        var all = new ArrayList<Border>();
        for (var massKg : List.of(3500.0, 3501.0)) {
            var over = massKg > 3500;
            for (var category : List.of(VehicleCategory.M2, VehicleCategory.N2)) {
                all.add(new Border(
                        "DfT advice: 350 mm over 3.5 t, 290 mm up to it (secondary)",
                        "uk-goods-and-passenger-roadworthiness",
                        "size-in-drivers-zone",
                        category,
                        massKg,
                        mm -> rightOf(DamageKind.STAR_BREAK, WHEEL_X + 160, 300, 22, mm),
                        over ? Result.NO : Result.YES,
                        over ? Result.NO : Result.YES));
            }
            all.add(new Border(
                    "common practice, no source: 350 mm over 3.5 t",
                    "common-practice-roadworthiness",
                    "crack-across-drivers-zone",
                    VehicleCategory.M2,
                    massKg,
                    mm -> List.of(Cases.damage(DamageKind.CRACK, WHEEL_X, 300, 400)
                            .shaped(DamageShape.crack(
                                    new Coordinate(WHEEL_X - 160 - mm, 300), new Coordinate(WHEEL_X + 160 + mm, 300)))
                            .facts()),
                    over ? Result.YES : Result.NO,
                    over ? Result.YES : Result.NO));
            all.add(new Border(
                    "common practice, no source: 350 mm over 3.5 t",
                    "common-practice-repair",
                    "outside-drivers-zone",
                    VehicleCategory.M2,
                    massKg,
                    mm -> rightOf(DamageKind.STAR_BREAK, WHEEL_X + 160, 300, 10, mm),
                    over ? Result.NO : Result.YES,
                    over ? Result.NO : Result.YES));
            for (var edition : List.of("bs-au-242b-2022", "bs-au-242a-1998")) {
                var isNew = edition.startsWith("bs-au-242b");
                all.add(new Border(
                        "BS AU 242: the wider zone of coaches over 3.5 t (memory of 242a, secondary of 242b)",
                        edition,
                        "size-in-drivers-zone",
                        VehicleCategory.M2,
                        massKg,
                        mm -> rightOf(DamageKind.STAR_BREAK, WHEEL_X + (isNew ? 220 : 160), 300, 30, mm),
                        over ? Result.NO : Result.YES,
                        over ? Result.NO : Result.YES));
            }
        }
        return all;
    }

    /** Marks count as one up to 10 mm apart; no source says how far, the figure is ours. In Quebec they have to meet. */
    private static List<Border> together() {
        var all = new ArrayList<Border>();
        for (var sheet :
                List.of("uk-cars-roadworthiness", "uk-goods-and-passenger-roadworthiness", "ie-cars-roadworthiness")) {
            var category = sheet.startsWith("uk-goods") ? VehicleCategory.N3 : VehicleCategory.M1;
            all.add(leaving(
                    "10 mm apart (ours)",
                    sheet,
                    "size-in-drivers-zone",
                    category,
                    null,
                    mm -> pair(DamageKind.STAR_BREAK, WHEEL_X, 300, 9, 10 + mm)));
            all.add(leaving(
                    "10 mm apart (ours)",
                    sheet,
                    "size-outside-drivers-zone",
                    category,
                    null,
                    mm -> pair(DamageKind.STAR_BREAK, 300, 300, 36, 10 + mm)));
        }
        all.add(leaving(
                "C-24.2, r. 32, s. 60: that meet (seen)",
                "ca-quebec",
                "size-in-wiped-area",
                VehicleCategory.M1,
                null,
                mm -> pair(DamageKind.STAR_BREAK, 300, 300, 11, mm)));
        var kinds = Map.of(
                "pit", DamageKind.PIT,
                "bullseye", DamageKind.BULLSEYE,
                "star", DamageKind.STAR_BREAK,
                "half-moon", DamageKind.HALF_MOON);
        for (var sheet : List.of("100-headrest", "100-wheel", "350-headrest", "350-wheel")) {
            kinds.forEach((name, kind) -> {
                // inside so small that one is allowed and two are not, and so outside
                var inside = name.equals("pit") ? 1.8 : 9;
                var outside = name.equals("pit") ? 4.5 : 18;
                all.add(leaving(
                        "10 mm apart (ours)",
                        "as-nzs-2366-1-crack-" + sheet,
                        name + "-inside-critical-vision-area",
                        VehicleCategory.M1,
                        null,
                        mm -> pair(kind, WHEEL_X, 300, inside, 10 + mm)));
                all.add(leaving(
                        "10 mm apart (ours)",
                        "as-nzs-2366-1-crack-" + sheet,
                        name + "-outside-critical-vision-area",
                        VehicleCategory.M1,
                        null,
                        mm -> pair(kind, 300, 300, outside, 10 + mm)));
            });
        }
        return all;
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("borders")
    void comesOutAsTheSourceSaysOnEitherSide(Border border) {
        var sheet = Cases.sheet(border.sheet());
        assertThat(border.result(-HAIR, sheet)).as("under").isEqualTo(border.under());
        assertThat(border.result(HAIR, sheet)).as("over").isEqualTo(border.over());
    }

    static Stream<String> sheets() {
        return Sheets.shipped().stream().map(Sheet::id);
    }

    @ParameterizedTest
    @MethodSource("sheets")
    void aChangeOfAnyNumberIsNoticed(String id) {
        var cases = CASES.getOrDefault(id, List.of());
        var text = JSON.readTree(Sheets.textOf(id));
        var numbers = new ArrayList<String>();
        for (var part : List.of("zones", "rules")) {
            numbers(text.path(part), "/" + part, numbers);
        }
        var sheet = Sheets.read(id, text.toString());
        var known = cases.stream().map(each -> each.result().apply(sheet)).toList();
        var unnoticed = new ArrayList<String>();
        for (var number : numbers) {
            for (var by : List.of(1, -1)) {
                // The way before it takes what is heavier, so it may reach up as far as it likes.
                if (by > 0 && (id + number).equals(LATER_WAY)) {
                    continue;
                }
                var moved = moved(text, number, by);
                if (moved != null && !isNoticed(moved, cases, known)) {
                    unnoticed.add(number + " moved to " + JSON.readTree(moved).at(number));
                }
            }
        }
        assertThat(unnoticed).as("%s by %d cases", id, cases.size()).isEmpty();
    }

    private static boolean isNoticed(String moved, List<Tried> cases, List<Result> known) {
        Sheet sheet;
        try {
            sheet = Sheets.read("moved", moved);
        } catch (BrokenSheet e) {
            return true; // it cannot be moved there at all
        }
        for (var i = 0; i < cases.size(); i++) {
            if (cases.get(i).result().apply(sheet) != known.get(i)) {
                return true;
            }
        }
        return false;
    }

    private static void numbers(JsonNode node, String pointer, List<String> found) {
        if (node.isNumber()) {
            if (!pointer.startsWith("/zones") || node.asDouble() > 0) { // a border of 0 mm is none
                found.add(pointer);
            }
        } else if (node instanceof ObjectNode object) {
            object.properties().forEach(part -> numbers(part.getValue(), pointer + "/" + part.getKey(), found));
        } else if (node instanceof ArrayNode list) {
            for (var i = 0; i < list.size(); i++) {
                numbers(list.get(i), pointer + "/" + i, found);
            }
        }
    }

    /** The text with one number moved up or down; null where there is nowhere to go. */
    private static @Nullable String moved(JsonNode text, String pointer, int by) {
        var copy = text.deepCopy();
        var cut = pointer.lastIndexOf('/');
        var field = pointer.substring(cut + 1);
        var within = (ObjectNode) copy.at(pointer.substring(0, cut));
        var value = within.path(field).asDouble();
        var step = field.equals("limitCount") ? by : field.startsWith("mass") ? by * value / 50 : by * MOVED_MM;
        if (value + step < 0) {
            return null;
        }
        if (field.equals("limitCount")) {
            within.put(field, (int) (value + step));
        } else {
            within.put(field, value + step);
        }
        return copy.toString();
    }
}
