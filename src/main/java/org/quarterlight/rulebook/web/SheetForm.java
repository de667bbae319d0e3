package org.quarterlight.rulebook.web;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Zone;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.kernel.InvalidText.Mistake;
import org.quarterlight.web.Choice;
import org.quarterlight.web.Words;
import org.springframework.util.MultiValueMap;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ArrayNode;
import tools.jackson.databind.node.ObjectNode;

/**
 * A sheet as a form: what it is for, its zones with every way to draw them, and a row for each limit. What the form does not
 * show stays as it is in the text that it began with.
 */
final class SheetForm {
    private static final String OWN_AFTER = "Own limit, changed from ";
    private static final int LONGEST_DOCUMENT = 200;
    static final List<String> COUNTS = List.of("count", "earlier-repairs", "ends-at-edge", "age-days");
    private static final List<String> FACTS = List.of("layers", "condition", "crosses-zone", "view", "level", "clear");
    private static final Pattern OF_A_RULE = Pattern.compile("rules\\[(\\d+)]\\.?(.*)");
    private static final Pattern OF_A_ZONE = Pattern.compile("zones\\.([^.\\[]*)(?:\\[(\\d+)])?\\.?(.*)");
    private static final Pattern BUTTON =
            Pattern.compile("(show|remove|zone-add|zone-remove|way-add|way-remove)(?:-(\\d{1,3}))?");
    private static final int MOST_RULES = 200;
    private static final int MOST_ZONES = 40;
    private static final int MOST_WAYS = 200;

    /** Whether a limit goes on for a finished repair: no, as well, or for such a repair alone. */
    private static final String FINISHED_TOO = "too";

    private static final String FINISHED_ALONE = "alone";

    final String name;
    final About about;
    final List<ZoneRow> zones;
    final List<Row> rows;
    final Map<String, String> errors = new LinkedHashMap<>();
    final List<String> others = new ArrayList<>();

    /** What a sheet is for, as it is typed. */
    public record About(String vehicles, String country, String subdivision, String note) {}

    /** One limit as it is typed. {@code of} is the rule of the text that it was, empty where it is new. */
    public record Row(
            String of,
            String rule,
            String where,
            Set<String> kinds,
            String vehicles,
            String quantity,
            String bound,
            String limit,
            String broken,
            String document,
            String section,
            String status,
            More more) {}

    /** What most limits do not need, as it is typed. */
    public record More(
            String finished,
            String together,
            String counted,
            Set<String> otherKinds,
            String edition,
            String checkedOn,
            String note) {
        static More nothing() {
            return new More("no", "", "", Set.of(), "", "", "");
        }

        private static More of(JsonNode rule) {
            return new More(
                    rule.path("onlyFinishedRepairs").asBoolean(false)
                            ? FINISHED_ALONE
                            : rule.path("countsFinishedRepairs").asBoolean(false) ? FINISHED_TOO : "no",
                    rule.path("togetherWithinMm").asString(""),
                    CountedWords.of(rule.path("counted")),
                    words(rule.path("otherKinds")),
                    rule.at("/source/edition").asString(""),
                    rule.at("/source/checkedOn").asString(""),
                    rule.path("note").asString(""));
        }

        private static More typed(MultiValueMap<String, String> fields, int at) {
            return new More(
                    at(fields, "finished", at),
                    at(fields, "together", at),
                    at(fields, "counted", at),
                    chosen(fields, "otherKinds-" + at),
                    at(fields, "edition", at),
                    at(fields, "checkedOn", at),
                    at(fields, "note", at));
        }

        /** Whether any of it bears on the verdict, so that the page shows it at once. */
        public boolean isSaid() {
            return !equals(new More(finished.isEmpty() ? "" : "no", "", "", Set.of(), edition, checkedOn, note));
        }
    }

    /** A zone as it is typed. {@code key} is what rules and other zones of the same form call it. */
    public record ZoneRow(String key, String name, List<WayRow> ways) {
        private String typedKey() {
            return SheetForm.key(name);
        }
    }

    /** One way to draw a zone. Of its numbers those count that its construction has. */
    public record WayRow(
            String vehicles,
            String construction,
            String within,
            String widthMm,
            String heightMm,
            String centre,
            String side,
            String topMm,
            String bottomMm,
            String sidesMm,
            boolean fromWheelTop,
            Set<String> parts) {
        static WayRow empty() {
            return new WayRow("", "band", Zone.SWEPT_AREA, "290", "", "wheel", "driver", "", "", "", false, Set.of());
        }
    }

    private SheetForm(String name, About about, List<ZoneRow> zones, List<Row> rows) {
        this.name = name;
        this.about = about;
        this.zones = zones;
        this.rows = rows;
    }

    static SheetForm of(JsonNode sheet) {
        var zones = new ArrayList<ZoneRow>();
        sheet.path("zones").properties().forEach(zone -> {
            var ways = new ArrayList<WayRow>();
            zone.getValue().forEach(way -> ways.add(way(way)));
            zones.add(new ZoneRow(zone.getKey(), SheetWords.capital(SheetWords.place(zone.getKey())), ways));
        });
        var rows = new ArrayList<Row>();
        for (var i = 0; i < sheet.path("rules").size(); i++) {
            var rule = sheet.path("rules").get(i);
            var source = rule.path("source");
            rows.add(new Row(
                    Integer.toString(i),
                    SheetWords.capital(SheetWords.words(rule.path("rule").asString(""))),
                    rule.path("where").asString(""),
                    words(rule.path("kinds")),
                    VehicleWords.of(rule.path("vehicles")),
                    rule.path("quantity").asString(""),
                    rule.path("bound").asString(""),
                    limit(rule),
                    rule.path("ifBroken").asString(""),
                    source.path("document").asString(""),
                    source.path("section").asString(""),
                    source.path("status").asString(""),
                    More.of(rule)));
        }
        var about = new About(
                VehicleWords.of(sheet.path("vehicles")),
                sheet.at("/region/country").asString(""),
                sheet.at("/region/subdivision").asString(""),
                sheet.path("note").asString(""));
        return new SheetForm(sheet.path("name").asString(""), about, zones, rows);
    }

    private static WayRow way(JsonNode way) {
        var construction = way.propertyNames().stream()
                .filter(each -> !each.equals("vehicles"))
                .findFirst()
                .orElse("band");
        var said = way.path(construction);
        return new WayRow(
                VehicleWords.of(way.path("vehicles")),
                construction,
                said.path(construction.equals("without") ? "from" : "within").asString(""),
                said.path(construction.equals("square") ? "sideMm" : "widthMm").asString(""),
                said.path("heightMm").asString(""),
                said.path("centre").asString("wheel"),
                said.path("side").asString("driver"),
                said.path("topMm").asString(""),
                said.path("bottomMm").asString(""),
                said.path("sidesMm").asString(""),
                said.path("fromWheelTop").asBoolean(false),
                words(construction.equals("union") ? said : said.path("zones")));
    }

    private static Set<String> words(JsonNode list) {
        var words = new LinkedHashSet<String>();
        list.forEach(word -> words.add(word.asString("")));
        return words;
    }

    private static String limit(JsonNode rule) {
        if (rule.has("limitMm")) {
            return rule.path("limitMm").asString("");
        }
        if (rule.has("limitCount")) {
            return rule.path("limitCount").asString("");
        }
        return String.join(", ", words(rule.path("allowed")));
    }

    /** As it was sent; every row sends every field. */
    static SheetForm typed(MultiValueMap<String, String> fields) {
        var rows = new ArrayList<Row>();
        for (var i = 0; i < many(fields, "rule", MOST_RULES); i++) {
            rows.add(new Row(
                    at(fields, "of", i),
                    at(fields, "rule", i),
                    at(fields, "where", i),
                    chosen(fields, "kinds-" + i),
                    at(fields, "vehicles", i),
                    at(fields, "quantity", i),
                    at(fields, "bound", i),
                    at(fields, "limit", i),
                    at(fields, "broken", i),
                    at(fields, "document", i),
                    at(fields, "section", i),
                    at(fields, "status", i),
                    More.typed(fields, i)));
        }
        var zones = new ArrayList<ZoneRow>();
        for (var i = 0; i < many(fields, "zoneName", MOST_ZONES); i++) {
            var ways = new ArrayList<WayRow>();
            for (var j = 0; j < many(fields, "wayZone", MOST_WAYS); j++) {
                if (at(fields, "wayZone", j).equals(Integer.toString(i))) {
                    ways.add(typedWay(fields, j));
                }
            }
            zones.add(new ZoneRow(at(fields, "zoneKey", i), at(fields, "zoneName", i), ways));
        }
        var about = new About(
                at(fields, "sheetVehicles", 0),
                at(fields, "country", 0).toUpperCase(Locale.ROOT),
                at(fields, "subdivision", 0).toUpperCase(Locale.ROOT),
                at(fields, "sheetNote", 0));
        return new SheetForm(Objects.requireNonNullElse(fields.getFirst("name"), ""), about, zones, rows);
    }

    private static WayRow typedWay(MultiValueMap<String, String> fields, int at) {
        return new WayRow(
                at(fields, "wayVehicles", at),
                at(fields, "wayConstruction", at),
                at(fields, "wayWithin", at),
                at(fields, "wayWidth", at),
                at(fields, "wayHeight", at),
                at(fields, "wayCentre", at),
                at(fields, "waySide", at),
                at(fields, "wayTop", at),
                at(fields, "wayBottom", at),
                at(fields, "waySides", at),
                at(fields, "wayWheelTop", at).equals("yes"),
                chosen(fields, "wayParts-" + at));
    }

    private static int many(MultiValueMap<String, String> fields, String field, int most) {
        return Math.min(most, fields.getOrDefault(field, List.of()).size());
    }

    private static Set<String> chosen(MultiValueMap<String, String> fields, String field) {
        return new LinkedHashSet<>(fields.getOrDefault(field, List.of()));
    }

    private static String at(MultiValueMap<String, String> fields, String field, int index) {
        var values = fields.getOrDefault(field, List.of());
        return index < values.size()
                ? Objects.requireNonNullElse(values.get(index), "").strip()
                : "";
    }

    SheetForm with(Row row) {
        var more = new ArrayList<>(rows);
        more.add(row);
        return new SheetForm(name, about, zones, more);
    }

    /** By zone, how many ways the zones before it have: ways are counted through all of them. */
    List<Integer> firstWays() {
        var firsts = new ArrayList<Integer>();
        var first = 0;
        for (var zone : zones) {
            firsts.add(first);
            first += zone.ways().size();
        }
        return firsts;
    }

    /** The form after one of its buttons that keep nothing; null where the verb is none of them. */
    @Nullable
    SheetForm changed(String verb) {
        var button = BUTTON.matcher(verb);
        if (!button.matches()) {
            return null;
        }
        var number = button.group(2) == null ? 0 : Integer.parseInt(button.group(2));
        return switch (button.group(1)) {
            case "zone-add" -> withZone();
            case "zone-remove" -> withoutZone(number);
            case "way-add" -> withWay(number);
            case "way-remove" -> withoutWay(number);
            case "remove" -> without(number);
            default -> this;
        };
    }

    SheetForm without(int row) {
        return new SheetForm(name, about, zones, fewer(rows, row));
    }

    /** A band before the driver to begin with, under a name that no other has. */
    SheetForm withZone() {
        var number = 1;
        var keys = zones.stream().map(ZoneRow::key).toList();
        while (keys.contains("zone-" + number)) {
            number++;
        }
        var more = new ArrayList<>(zones);
        more.add(new ZoneRow("zone-" + number, "Zone " + number, List.of(WayRow.empty())));
        return new SheetForm(name, about, more, rows);
    }

    SheetForm withoutZone(int zone) {
        return new SheetForm(name, about, fewer(zones, zone), rows);
    }

    SheetForm withWay(int zone) {
        var changed = new ArrayList<>(zones);
        if (zone < changed.size()) {
            var present = changed.get(zone);
            var ways = new ArrayList<>(present.ways());
            ways.add(WayRow.empty());
            changed.set(zone, new ZoneRow(present.key(), present.name(), ways));
        }
        return new SheetForm(name, about, changed, rows);
    }

    /** Ways are counted through all zones, as their fields are. */
    SheetForm withoutWay(int way) {
        var changed = new ArrayList<ZoneRow>();
        var first = 0;
        for (var zone : zones) {
            changed.add(new ZoneRow(zone.key(), zone.name(), fewer(zone.ways(), way - first)));
            first += zone.ways().size();
        }
        return new SheetForm(name, about, changed, rows);
    }

    private static <T> List<T> fewer(List<T> all, int without) {
        var fewer = new ArrayList<>(all);
        if (without >= 0 && without < fewer.size()) {
            fewer.remove(without);
        }
        return fewer;
    }

    /** Two zones of one name would be one in the text, so this is told before it is made. */
    boolean hasGoodNames() {
        var seen = new HashMap<String, Integer>();
        for (var i = 0; i < zones.size(); i++) {
            var key = zones.get(i).typedKey();
            if (key.isEmpty()) {
                errors.put("zoneName-" + i, "Give the zone a name");
            } else if (seen.putIfAbsent(key, i) != null) {
                errors.put("zoneName-" + i, "Another zone has this name");
            }
        }
        return errors.isEmpty();
    }

    /** The text that the form began with, changed as it was typed. */
    ObjectNode applied(ObjectNode base, JsonMapper json) {
        var sheet = base.deepCopy();
        sheet.put("name", name.strip());
        VehicleWords.write(about.vehicles(), sheet);
        optional(sheet, "note", note(base.path("note"), about.note()));
        region(sheet);
        var called = new HashMap<String, String>();
        zones.forEach(zone -> called.put(zone.key(), zone.typedKey()));
        if (zones.isEmpty()) {
            sheet.remove("zones");
        } else {
            var drawn = sheet.putObject("zones");
            for (var zone : zones) {
                var ways = drawn.putArray(zone.typedKey());
                zone.ways().forEach(way -> write(way, ways.addObject(), called));
            }
        }
        var rules = json.createArrayNode();
        for (var row : rows) {
            var was = row.of().matches("\\d{1,3}")
                    ? base.path("rules").path(Integer.parseInt(row.of()))
                    : json.missingNode();
            rules.add(rule(row, was instanceof ObjectNode rule ? rule.deepCopy() : fresh(json), called));
        }
        sheet.set("rules", rules);
        return sheet;
    }

    private void region(ObjectNode sheet) {
        if (about.country().isEmpty() && about.subdivision().isEmpty()) {
            sheet.remove("region");
            return;
        }
        var region = sheet.path("region") instanceof ObjectNode known ? known : sheet.putObject("region");
        if (!region.path("country").asString("").equals(about.country())) {
            region.remove("alsoIn");
        }
        optional(region, "country", about.country());
        optional(region, "subdivision", about.subdivision());
    }

    /** As it was where a browser has changed no more than the ends of its lines. */
    private static String note(JsonNode before, String typed) {
        var said = before.asString("");
        var now = typed.replace("\r\n", "\n").strip();
        return now.equals(said.replace("\r\n", "\n").strip()) ? said : now;
    }

    private static void more(More more, ObjectNode rule) {
        rule.put(
                "countsFinishedRepairs",
                !more.finished().equals("no") && !more.finished().isEmpty());
        rule.remove("onlyFinishedRepairs");
        if (more.finished().equals(FINISHED_ALONE)) {
            rule.put("onlyFinishedRepairs", true);
        }
        number(rule, "togetherWithinMm", more.together());
        CountedWords.write(more.counted(), rule);
        rule.remove("otherKinds");
        more.otherKinds().forEach(kind -> rule.withArray("otherKinds").add(kind));
        optional(rule, "note", note(rule.path("note"), more.note()));
    }

    private static void write(WayRow way, ObjectNode into, Map<String, String> called) {
        VehicleWords.write(way.vehicles(), into);
        var within = called.getOrDefault(way.within(), way.within());
        if (way.construction().equals("union")) {
            way.parts().forEach(into.withArray("union")::add);
            rename(into.withArray("union"), called);
            return;
        }
        var said = into.putObject(way.construction());
        switch (way.construction()) {
            case "band" -> {
                number(said, "widthMm", way.widthMm());
                said.put("centre", way.centre());
                said.put("within", within);
            }
            case "square" -> {
                number(said, "sideMm", way.widthMm());
                said.put("within", within);
            }
            case "rectangle" -> {
                number(said, "widthMm", way.widthMm());
                number(said, "heightMm", way.heightMm());
                said.put("within", within);
            }
            case "strip" -> {
                said.put("side", way.side());
                number(said, "widthMm", way.widthMm());
                said.put("within", within);
            }
            case "half" -> {
                said.put("side", way.side());
                said.put("within", within);
            }
            case "inset" -> {
                number(said, "topMm", way.topMm());
                number(said, "bottomMm", way.bottomMm());
                number(said, "sidesMm", way.sidesMm());
                said.put("fromWheelTop", way.fromWheelTop());
                said.put("within", within);
            }
            case "without" -> {
                said.put("from", within);
                way.parts().forEach(said.withArray("zones")::add);
                rename(said.withArray("zones"), called);
            }
            default -> {
                // what is none is told by the check of the sheet
            }
        }
    }

    private static void rename(ArrayNode parts, Map<String, String> called) {
        for (var i = 0; i < parts.size(); i++) {
            var part = parts.get(i).asString("");
            parts.set(i, called.getOrDefault(part, part));
        }
    }

    private static ObjectNode fresh(JsonMapper json) {
        var rule = json.createObjectNode();
        rule.put("rule", "");
        rule.put("countsFinishedRepairs", false);
        return rule;
    }

    private static ObjectNode rule(Row row, ObjectNode rule, Map<String, String> called) {
        var before = rule.deepCopy();
        rule.put("rule", key(row.rule()));
        optional(rule, "where", called.getOrDefault(row.where(), row.where()));
        rule.remove("kinds");
        row.kinds().forEach(kind -> rule.withArray("kinds").add(kind));
        VehicleWords.write(row.vehicles(), rule);
        rule.put("quantity", row.quantity());
        rule.put("bound", row.bound());
        if (FACTS.contains(row.quantity())) {
            rule.remove(List.of("limitMm", "limitCount"));
            var allowed = rule.putArray("allowed");
            Arrays.stream(row.limit().split(","))
                    .map(String::strip)
                    .filter(word -> !word.isEmpty())
                    .forEach(allowed::add);
        } else if (COUNTS.contains(row.quantity())) {
            rule.remove(List.of("limitMm", "allowed"));
            number(rule, "limitCount", row.limit());
        } else {
            rule.remove(List.of("limitCount", "allowed"));
            number(rule, "limitMm", row.limit());
        }
        rule.put("ifBroken", row.broken());
        more(row.more(), rule);
        var source = rule.path("source") instanceof ObjectNode known ? known : rule.putObject("source");
        source.put("document", row.document());
        optional(source, "section", row.section());
        source.put("status", row.status());
        optional(source, "edition", row.more().edition());
        optional(source, "checkedOn", row.more().checkedOn());
        if (isChangedUnder(before, rule)) {
            source.put("document", ownAfter(row.document()));
            source.put("status", "common-practice");
            source.remove(List.of("edition", "checkedOn", "conflictsWith"));
        }
        return rule;
    }

    /** What a source says is not what it is changed to: its name stands under no other limit unless the author says so. */
    private static boolean isChangedUnder(ObjectNode before, ObjectNode now) {
        return before.path("source").isObject()
                && !before.at("/source/document").asString("").startsWith(OWN_AFTER)
                && Stream.of("document", "edition", "section", "status", "checkedOn")
                        .allMatch(part -> before.path("source")
                                .path(part)
                                .equals(now.path("source").path(part)))
                && (Stream.of("quantity", "bound", "limitMm", "limitCount", "allowed", "togetherWithinMm")
                                .anyMatch(part -> !isSame(before.path(part), now.path(part)))
                        || !CountedWords.of(before.path("counted")).equals(CountedWords.of(now.path("counted"))));
    }

    private static boolean isSame(JsonNode one, JsonNode other) {
        return one.isNumber() && other.isNumber()
                ? one.decimalValue().compareTo(other.decimalValue()) == 0
                : one.equals(other);
    }

    private static String ownAfter(String document) {
        var own = OWN_AFTER + document;
        return own.substring(0, Math.min(own.length(), LONGEST_DOCUMENT));
    }

    /** What a name in plain words is in the text: {@code driver's zone} is {@code drivers-zone}. */
    private static String key(String name) {
        return name.toLowerCase(Locale.ROOT)
                .replaceAll("['’]", "")
                .replaceAll("[^a-z0-9]+", "-")
                .replaceAll("^-|-$", "");
    }

    private static void optional(ObjectNode node, String field, String value) {
        if (value.isBlank()) {
            node.remove(field);
        } else {
            node.put(field, value);
        }
    }

    /** What is no number stays a text, so that the check of the sheet says so. */
    private static void number(ObjectNode node, String field, String typed) {
        var text = typed.replace(',', '.');
        if (text.isBlank()) {
            node.remove(field);
        } else if (text.matches("-?\\d{1,8}(\\.\\d{1,9})?")) {
            node.put(field, new BigDecimal(text));
        } else {
            node.put(field, typed);
        }
    }

    /** What a limit or a zone may lie in: the parts of every glass, the form's own zones, and what is named and not there. */
    List<Choice> places() {
        var places = new LinkedHashMap<String, String>();
        Zone.OF_EVERY_GLASS.forEach(zone -> places.put(zone, SheetWords.place(zone)));
        zones.forEach(zone -> places.put(zone.key(), zone.name()));
        Stream.concat(
                        rows.stream().map(Row::where),
                        zones.stream()
                                .flatMap(zone -> zone.ways().stream())
                                .flatMap(way -> Stream.concat(Stream.of(way.within()), way.parts().stream())))
                .filter(place -> !place.isEmpty())
                .forEach(place -> places.putIfAbsent(place, SheetWords.place(place) + " (no longer there)"));
        return places.entrySet().stream()
                .map(place -> Choice.of(place.getKey(), place.getValue()))
                .toList();
    }

    /** Kinds of damage, for ticking. */
    static List<Choice> kinds() {
        return Stream.of(DamageKind.values())
                .map(kind -> Choice.of(Words.of(kind), Words.spoken(kind)))
                .toList();
    }

    /** Puts each mistake beside the field that it speaks of. */
    void mistaken(List<Mistake> mistakes) {
        for (var mistake : mistakes) {
            var rule = OF_A_RULE.matcher(mistake.field());
            var zone = OF_A_ZONE.matcher(mistake.field());
            var field = rule.matches() ? fieldOf(rule.group(2)) : null;
            var ofZone = zone.matches() ? zoneField(zone.group(1), zone.group(2), zone.group(3)) : null;
            if (rule.matches()
                    && rule.group(2).startsWith("counted")
                    && mistake.message().contains("array expected")
                    && Integer.parseInt(rule.group(1)) < rows.size()) {
                errors.putIfAbsent("counted-" + rule.group(1), CountedWords.EXAMPLE);
            } else if (rule.matches() && field != null && Integer.parseInt(rule.group(1)) < rows.size()) {
                errors.putIfAbsent(field + "-" + rule.group(1), said(mistake.message()));
            } else if (mistake.field().equals("name")) {
                errors.putIfAbsent("name", name.isBlank() ? "Give it a name" : said(mistake.message()));
            } else if (mistake.field().startsWith("vehicles")) {
                errors.putIfAbsent("sheetVehicles", said(mistake.message()));
            } else if (mistake.field().startsWith("region")) {
                errors.putIfAbsent(
                        mistake.field().endsWith("subdivision") ? "subdivision" : "country",
                        mistake.field().endsWith("subdivision")
                                ? "Country and part of it, for example US-MD"
                                : "Two letters, for example GB");
            } else if (mistake.field().equals("note")) {
                errors.putIfAbsent("sheetNote", said(mistake.message()));
            } else if (mistake.field().equals("rules") && rows.isEmpty()) {
                others.add("Add a limit: a sheet without one says nothing");
            } else if (ofZone != null) {
                errors.putIfAbsent(ofZone, said(mistake.message()));
            } else {
                others.add(mistake.field() + " " + mistake.message());
            }
        }
    }

    /** Each mistake beside a field: the field's id, and the mistake with where it is. */
    List<Choice> summary() {
        return errors.entrySet().stream()
                .map(each -> Choice.of(each.getKey(), placeOf(each.getKey()) + each.getValue()))
                .toList();
    }

    private String placeOf(String field) {
        var number = field.lastIndexOf('-') + 1;
        if (number == 0) {
            return "";
        }
        var index = Integer.parseInt(field.substring(number));
        if (field.startsWith("zone")) {
            return "Zone " + (index + 1) + ": ";
        }
        if (field.startsWith("way")) {
            for (var i = 0; i < zones.size(); i++) {
                index -= zones.get(i).ways().size();
                if (index < 0) {
                    return "Zone " + (i + 1) + ": ";
                }
            }
            return "Zones: ";
        }
        return "Limit " + (index + 1) + ": ";
    }

    private @Nullable String zoneField(String key, @Nullable String way, String part) {
        var first = 0;
        for (var i = 0; i < zones.size(); i++) {
            var zone = zones.get(i);
            if (zone.typedKey().equals(key)) {
                if (way == null || Integer.parseInt(way) >= zone.ways().size()) {
                    return "zoneName-" + i;
                }
                return wayField(part) + "-" + (first + Integer.parseInt(way));
            }
            first += zone.ways().size();
        }
        return null;
    }

    private static String wayField(String part) {
        var last = part.substring(part.lastIndexOf('.') + 1);
        if (part.startsWith("vehicles")) {
            return "wayVehicles";
        }
        return switch (last) {
            case "widthMm", "sideMm" -> "wayWidth";
            case "heightMm" -> "wayHeight";
            case "topMm" -> "wayTop";
            case "bottomMm" -> "wayBottom";
            case "sidesMm" -> "waySides";
            case "within", "from" -> "wayWithin";
            case "side" -> "waySide";
            case "centre" -> "wayCentre";
            default -> last.startsWith("zones") || last.startsWith("union") ? "wayParts" : "wayConstruction";
        };
    }

    private static @Nullable String fieldOf(String field) {
        return switch (field) {
            case "limitMm", "limitCount", "allowed" -> "limit";
            case "rule", "" -> "rule";
            case "where", "quantity", "bound" -> field;
            case "ifBroken" -> "broken";
            case "source.document" -> "document";
            case "source.section" -> "section";
            case "source.status" -> "status";
            case "source.edition" -> "edition";
            case "source.checkedOn" -> "checkedOn";
            case "countsFinishedRepairs", "onlyFinishedRepairs" -> "finished";
            case "togetherWithinMm" -> "together";
            case "note" -> "note";
            default ->
                field.startsWith("allowed")
                        ? "limit"
                        : field.startsWith("kinds")
                                ? "kinds"
                                : field.startsWith("otherKinds")
                                        ? "otherKinds"
                                        : field.startsWith("counted")
                                                ? "counted"
                                                : field.startsWith("vehicles") ? "vehicles" : null;
        };
    }

    /** Messages of the check follow the field's name; beside the field they stand alone. */
    private static String said(String message) {
        if (message.startsWith("is missing")
                || message.startsWith("required property")
                || message.contains("not found")) {
            return "Give one";
        }
        if (message.contains("string found, number expected") || message.contains("string found, integer expected")) {
            return "Give a number, for example 19 or 19.05";
        }
        if (message.contains("string found, array expected")) {
            return VehicleWords.EXAMPLE;
        }
        if (message.contains("does not match the regex pattern")) {
            return "Say in a few words what it limits";
        }
        if (message.contains("must have at least") || message.contains("must have a minimum")) {
            return "Choose more";
        }
        if (message.contains("does not have a value in the enumeration")) {
            return "Choose one";
        }
        return message.substring(0, 1).toUpperCase(Locale.ROOT) + message.substring(1);
    }
}
