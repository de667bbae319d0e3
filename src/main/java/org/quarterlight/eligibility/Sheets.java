package org.quarterlight.eligibility;

import com.networknt.schema.Error;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.BrokenSheet.Problem;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.VehicleCategory;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.node.ObjectNode;

/** Reads rule sheets from JSON: the shipped ones, and what an organisation writes itself. */
public final class Sheets {
    /** The shipped sheets, in the order in which they are offered. */
    private static final List<String> SHIPPED = List.of(
            "common-practice-roadworthiness",
            "common-practice-repair",
            "common-practice-repair-coin",
            "common-practice-finished",
            "uk-cars-roadworthiness",
            "uk-goods-and-passenger-roadworthiness",
            "bs-au-242b-2022",
            "bs-au-242b-2022-finished",
            "bs-au-242a-1998",
            "ie-cars-roadworthiness",
            "de-periodic-inspection",
            "de-repair-1986",
            "eu-2014-45-severity",
            "fr-practice-unofficial",
            "us-49-cfr-393-60",
            "us-maryland",
            "us-west-virginia",
            "us-rolags-2014",
            "us-rolags-2009-decision",
            "us-rolags-2007",
            "us-rolags-2014-finished",
            "us-older-association-advice",
            "ca-saskatchewan",
            "ca-ontario",
            "ca-nsc-11b-recalled",
            "ca-quebec",
            "ca-british-columbia",
            "au-light-two-reject",
            "au-light-two-allowed",
            "au-heavy-recalled",
            "nz-virm-5-1-headrest",
            "nz-virm-5-1-wheel",
            "as-nzs-2366-1-crack-350-headrest",
            "as-nzs-2366-1-crack-350-wheel",
            "as-nzs-2366-1-crack-100-headrest",
            "as-nzs-2366-1-crack-100-wheel");

    /** Versions of them that were shipped before, as {@code slug-version}: verdicts name them, so they are never changed. */
    private static final List<String> SHIPPED_BEFORE = List.of(
            "bs-au-242b-2022-finished-1",
            "de-repair-1986-1",
            "us-rolags-2014-1",
            "us-rolags-2009-decision-1",
            "us-rolags-2007-1",
            "au-light-two-reject-1",
            "au-light-two-allowed-1",
            "nz-virm-5-1-headrest-1",
            "nz-virm-5-1-wheel-1",
            "as-nzs-2366-1-crack-350-headrest-1",
            "as-nzs-2366-1-crack-350-wheel-1",
            "as-nzs-2366-1-crack-100-headrest-1",
            "as-nzs-2366-1-crack-100-wheel-1");

    /** Bound by the directives of the European Union, ISO 3166-1. */
    private static final Set<String> MEMBERS_OF_THE_UNION = Set.of(
            "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IT", "LT", "LU",
            "LV", "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK");

    /** Stands for all of them where a sheet names its country (reserved in ISO 3166-1 for the Union). */
    private static final String UNION = "EU";

    private static final int MOST_CHARACTERS = 512 * 1024;
    private static final int MOST_PROBLEMS = 50;
    private static final int FIRST_YEAR = 1950;
    private static final int LAST_YEAR = 2200;

    private static final VehicleTest NO_VEHICLE = new VehicleTest(Set.of(), Double.MAX_VALUE, null);

    private Sheets() {}

    private static final class Read {
        private static final Schema SCHEMA = SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                .getSchema(resource("sheet.schema.json"));
        private static final List<Sheet> SHIPPED_SHEETS = SHIPPED.stream()
                .map(slug -> read(slug, resource(slug + ".json")))
                .toList();
        private static final List<Sheet> BEFORE = SHIPPED_BEFORE.stream()
                .map(file -> read(file, resource("before/" + file + ".json")))
                .toList();
    }

    /** Every sheet that comes with the service. */
    public static List<Sheet> shipped() {
        return Read.SHIPPED_SHEETS;
    }

    /** A version of a shipped sheet, the present one or one before it. */
    public static Optional<Sheet> shipped(String id, int version) {
        return version(id, version);
    }

    /**
     * The sheets for finished repairs where an organisation of this place has chosen none: those of its country, else common
     * practice.
     */
    public static List<Sheet> acceptingFor(String country, @Nullable String subdivision) {
        var asked = shipped().stream()
                .filter(sheet -> sheet.question() == Question.ACCEPTABLE && !sheet.onlyByChoice())
                .toList();
        var local = asked.stream()
                .filter(sheet -> sheet.isOf(country))
                .filter(sheet ->
                        sheet.subdivision() == null || sheet.subdivision().equals(subdivision))
                .toList();
        return coverEveryCategory(local)
                ? local
                : Stream.concat(local.stream(), asked.stream().filter(sheet -> sheet.country() == null))
                        .toList();
    }

    /** All versions of a shipped sheet, the newest first; none where it is none. */
    public static List<Sheet> versions(String slug) {
        return Stream.concat(shipped().stream(), Read.BEFORE.stream())
                .filter(sheet -> sheet.id().equals(slug))
                .sorted(Comparator.comparingInt(Sheet::version).reversed())
                .toList();
    }

    /** A version of a shipped sheet, also one that has been followed by another. */
    public static Optional<Sheet> version(String slug, int version) {
        return versions(slug).stream()
                .filter(sheet -> sheet.version() == version)
                .findFirst();
    }

    /**
     * The sheets with which an organisation of this place starts: for each question those of its country and
     * subdivision, else those of the European Union where the country is a member; common practice for the road always, and for the repair where those leave a vehicle category without
     * an answer.
     */
    public static List<Sheet> startingFor(String country, @Nullable String subdivision) {
        var starting = new ArrayList<Sheet>();
        for (var question : List.of(Question.ROADWORTHY, Question.REPAIRABLE)) {
            var asked = shipped().stream()
                    .filter(sheet -> sheet.question() == question && !sheet.onlyByChoice())
                    .toList();
            var local = asked.stream()
                    .filter(sheet -> sheet.isOf(country))
                    .filter(sheet ->
                            sheet.subdivision() == null || sheet.subdivision().equals(subdivision))
                    .toList();
            if (local.isEmpty() && MEMBERS_OF_THE_UNION.contains(country)) {
                local = asked.stream()
                        .filter(sheet -> UNION.equals(sheet.country()))
                        .toList();
            }
            starting.addAll(local);
            // No country's sheet says when glass is dangerous; common practice does, so it always stands beside them.
            if (question == Question.ROADWORTHY || !coverEveryCategory(local)) {
                asked.stream().filter(sheet -> sheet.country() == null).forEach(starting::add);
            }
        }
        return List.copyOf(starting);
    }

    private static boolean coverEveryCategory(List<Sheet> sheets) {
        return Stream.of(VehicleCategory.values())
                .map(category -> new VehicleFacts(category, null))
                .allMatch(vehicle -> sheets.stream().anyMatch(sheet -> sheet.appliesTo(vehicle)));
    }

    /** The text of a shipped sheet, as a start for an organisation's own. */
    public static String textOf(String slug) {
        if (!SHIPPED.contains(slug)) {
            throw new IllegalArgumentException("no shipped sheet " + slug);
        }
        return resource(slug + ".json");
    }

    /** The text of one version of it. */
    public static String textOf(String slug, int version) {
        return SHIPPED_BEFORE.contains(slug + "-" + version)
                ? resource("before/" + slug + "-" + version + ".json")
                : textOf(slug);
    }

    /**
     * One sheet from its text. The name stands before the problems.
     *
     * @throws BrokenSheet with every problem, its line and its field
     */
    public static Sheet read(String name, String text) {
        return read(name, text, SheetCheck::problems);
    }

    private static Sheet read(String name, String text, Function<SheetCheck, List<Problem>> check) {
        bounded(name, text);
        var located = LocatedJson.read(name, text);
        var problems = Read.SCHEMA.validate(located.root()).stream()
                .limit(MOST_PROBLEMS)
                .map(error -> problem(located, error))
                .sorted(Comparator.comparingInt(Problem::line).thenComparing(Problem::field))
                .distinct()
                .toList();
        if (!problems.isEmpty()) {
            throw new BrokenSheet(name, problems);
        }
        var dates = unreadableDates(located);
        if (!dates.isEmpty()) {
            throw new BrokenSheet(name, dates);
        }
        var sheet = sheet(located.root());
        var senseless = check.apply(new SheetCheck(sheet, located));
        if (!senseless.isEmpty()) {
            throw new BrokenSheet(name, senseless);
        }
        return sheet;
    }

    /**
     * A sheet as it was kept some day, and what the check of today has against it.
     *
     * @param problems none where it would be taken today as well
     */
    public record Kept(Sheet sheet, List<Problem> problems) {
        public Kept {
            problems = List.copyOf(problems);
        }
    }

    /**
     * Reads a sheet that was checked when it was kept; rules that fight are looked for only when it is written again.
     * Checks grow stricter, what is published stays: it judges as it did. One that
     * nothing could judge by any more is for no vehicle, so that its question is left to the other sheets or unanswered.
     */
    public static Kept kept(String id, int version, String text) {
        try {
            return new Kept(read("sheet", text, SheetCheck::problemsOfKept), List.of());
        } catch (BrokenSheet e) {
            return new Kept(asItWas(id, version, text), e.problems());
        }
    }

    private static Sheet asItWas(String id, int version, String text) {
        try {
            var located = LocatedJson.read("sheet", text);
            var sheet = sheet(located.root());
            if (new SheetCheck(sheet, located).canJudge()) {
                return sheet;
            }
        } catch (RuntimeException e) {
            // Of whatever kind: no reader of today has been tried on this text. The problems say what is wrong with it.
        }
        return new Sheet(
                id,
                "A sheet that can no longer be read",
                version,
                Question.REPAIRABLE,
                null,
                null,
                List.of(),
                List.of(NO_VEHICLE),
                LocalDate.EPOCH,
                true,
                null,
                null,
                Map.of(),
                List.of());
    }

    /**
     * A change of a sheet (RFC 7396) from its text, held to what every sheet's text is held to before it is merged.
     *
     * @throws BrokenSheet where it is no object, too deep, too long, or says one thing twice
     */
    public static ObjectNode change(String name, String text) {
        bounded(name, text);
        if (LocatedJson.read(name, text).root() instanceof ObjectNode change) {
            return change;
        }
        throw new BrokenSheet(name, List.of(new Problem(1, "sheet", "is no object")));
    }

    private static void bounded(String name, String text) {
        if (text.length() > MOST_CHARACTERS) {
            var message = "has %d characters, %d are the most".formatted(text.length(), MOST_CHARACTERS);
            throw new BrokenSheet(name, List.of(new Problem(1, "sheet", message)));
        }
    }

    private static Problem problem(LocatedJson located, Error error) {
        var pointer = error.getInstanceLocation().toString();
        var property = error.getProperty();
        var message = error.getMessage();
        var field = LocatedJson.field(pointer);
        var named = property == null ? pointer : pointer + "/" + LocatedJson.escaped(property);
        if (property != null && located.has(named)) { // a field that is one too many
            return located.problem(named, message);
        }
        return new Problem(located.line(pointer), property == null ? field : LocatedJson.field(named), message);
    }

    private static List<Problem> unreadableDates(LocatedJson located) {
        return Stream.of("validFrom", "checkedOn")
                .flatMap(member -> located.pointersTo(member).stream())
                .flatMap(pointer -> wrongDay(located.root().at(pointer).asString()).stream()
                        .map(wrong -> located.problem(pointer, wrong)))
                .sorted(Comparator.comparingInt(Problem::line))
                .toList();
    }

    private static Optional<String> wrongDay(String text) {
        try {
            var year = LocalDate.parse(text).getYear();
            return year < FIRST_YEAR || year > LAST_YEAR
                    ? Optional.of("is not between " + FIRST_YEAR + " and " + LAST_YEAR)
                    : Optional.empty();
        } catch (DateTimeParseException e) {
            return Optional.of("is no day of the calendar");
        }
    }

    private static Sheet sheet(JsonNode node) {
        var region = node.path("region");
        var zones = new LinkedHashMap<String, List<Zone.Drawn>>();
        node.path("zones").properties().forEach(entry -> zones.put(entry.getKey(), drawn(entry.getValue())));
        return new Sheet(
                node.path("id").asString(),
                node.path("name").asString(),
                node.path("version").asInt(),
                word(Question.class, node.path("question")),
                text(region, "country"),
                text(region, "subdivision"),
                items(region, "alsoIn").map(JsonNode::asString).toList(),
                vehicles(node),
                LocalDate.parse(node.path("validFrom").asString()),
                node.path("onlyByChoice").asBoolean(false),
                disagreement(node.path("disagreement")),
                text(node, "note"),
                zones,
                items(node, "rules").map(Sheets::rule).toList());
    }

    private static @Nullable Disagreement disagreement(JsonNode node) {
        return node.isObject()
                ? new Disagreement(
                        node.path("on").asString(), node.path("reading").asString(), text(node, "startsBecause"))
                : null;
    }

    private static List<Zone.Drawn> drawn(JsonNode ways) {
        return StreamSupport.stream(ways.spliterator(), false)
                .flatMap(way -> zones(way).map(zone -> new Zone.Drawn(vehicles(way), zone)))
                .toList();
    }

    /** One zone, or several where somebody wrote two constructions into one; {@link SheetCheck} refuses those. */
    private static Stream<Zone> zones(JsonNode way) {
        var zones = new ArrayList<Zone>();
        var band = way.path("band");
        if (band.isObject()) {
            zones.add(new Zone.Band(
                    band.path("widthMm").asDouble(),
                    band.has("centre") ? word(Zone.Centre.class, band.path("centre")) : Zone.Centre.WHEEL,
                    band.path("within").asString()));
        }
        var without = way.path("without");
        if (without.isObject()) {
            zones.add(new Zone.Without(
                    without.path("from").asString(),
                    items(without, "zones").map(JsonNode::asString).toList()));
        }
        var square = way.path("square");
        if (square.isObject()) {
            zones.add(new Zone.Square(
                    square.path("sideMm").asDouble(), square.path("within").asString()));
        }
        var inset = way.path("inset");
        if (inset.isObject()) {
            zones.add(new Zone.Inset(
                    inset.path("topMm").asDouble(),
                    inset.path("bottomMm").asDouble(0),
                    inset.path("sidesMm").asDouble(),
                    inset.path("fromWheelTop").asBoolean(),
                    inset.path("within").asString()));
        }
        var rectangle = way.path("rectangle");
        if (rectangle.isObject()) {
            zones.add(new Zone.Rectangle(
                    rectangle.path("widthMm").asDouble(),
                    rectangle.path("heightMm").asDouble(),
                    rectangle.path("within").asString()));
        }
        var strip = way.path("strip");
        if (strip.isObject()) {
            zones.add(new Zone.Strip(
                    word(Zone.Side.class, strip.path("side")),
                    strip.path("widthMm").asDouble(),
                    strip.path("within").asString()));
        }
        var half = way.path("half");
        if (half.isObject()) {
            zones.add(new Zone.Half(
                    word(Zone.Side.class, half.path("side")),
                    half.path("within").asString()));
        }
        if (way.path("union").isArray()) {
            zones.add(new Zone.Union(items(way, "union").map(JsonNode::asString).toList()));
        }
        return zones.stream();
    }

    private static Rule rule(JsonNode node) {
        var ifBroken = node.path("ifBroken").asString();
        var rule = new Rule(
                node.path("rule").asString(),
                kinds(node, "kinds"),
                vehicles(node),
                text(node, "where"),
                word(Quantity.class, node.path("quantity")),
                word(Bound.class, node.path("bound")),
                number(node, "limitMm"),
                node.has("limitCount") ? node.path("limitCount").asInt() : null,
                items(node, "allowed").map(JsonNode::asString).toList(),
                ifBroken.equals("no") ? null : word(Grade.class, node.path("ifBroken")),
                node.path("countsFinishedRepairs").asBoolean(),
                node.path("onlyFinishedRepairs").asBoolean(false),
                number(node, "togetherWithinMm"),
                kinds(node, "otherKinds"),
                List.of(),
                text(node, "note"),
                source(node.path("source")));
        return rule.counting(
                items(node, "counted").map(each -> counted(rule, each)).toList());
    }

    private static Rule.Counted counted(Rule rule, JsonNode node) {
        return new Rule.Counted(
                kinds(node, "kinds"),
                items(node, "tests")
                        .map(test -> rule.reading(
                                word(Quantity.class, test.path("quantity")),
                                word(Bound.class, test.path("bound")),
                                number(test, "limitMm"),
                                test.has("limitCount") ? test.path("limitCount").asInt() : null,
                                items(test, "allowed").map(JsonNode::asString).toList()))
                        .toList());
    }

    private static Source source(JsonNode node) {
        var checkedOn = text(node, "checkedOn");
        return new Source(
                node.path("document").asString(),
                text(node, "edition"),
                text(node, "section"),
                word(Status.class, node.path("status")),
                checkedOn == null ? null : LocalDate.parse(checkedOn),
                node.has("conflictsWith")
                        ? items(node, "conflictsWith")
                                .map(other -> new OtherReading(
                                        other.path("sheet").asString(),
                                        other.path("says").asString()))
                                .toList()
                        : null);
    }

    private static List<VehicleTest> vehicles(JsonNode node) {
        return items(node, "vehicles")
                .map(test -> new VehicleTest(
                        items(test, "categories")
                                .map(category -> VehicleCategory.valueOf(category.asString()))
                                .collect(Collectors.toSet()),
                        number(test, "massOverKg"),
                        number(test, "massUpToKg")))
                .toList();
    }

    private static Set<DamageKind> kinds(JsonNode node, String field) {
        return items(node, field).map(kind -> word(DamageKind.class, kind)).collect(Collectors.toSet());
    }

    private static Stream<JsonNode> items(JsonNode node, String field) {
        return StreamSupport.stream(node.path(field).spliterator(), false);
    }

    private static @Nullable String text(JsonNode node, String field) {
        return node.has(field) ? node.path(field).asString() : null;
    }

    private static @Nullable Double number(JsonNode node, String field) {
        return node.has(field) ? node.path(field).asDouble() : null;
    }

    private static <E extends Enum<E>> E word(Class<E> type, JsonNode node) {
        return Enum.valueOf(type, node.asString().toUpperCase(Locale.ROOT).replace('-', '_'));
    }

    private static String resource(String name) {
        try (var stream = Sheets.class.getResourceAsStream("/sheets/" + name)) {
            if (stream == null) {
                throw new IllegalStateException("no /sheets/" + name + " on the class path");
            }
            return new String(stream.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
