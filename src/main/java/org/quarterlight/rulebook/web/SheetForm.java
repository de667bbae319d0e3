package org.quarterlight.rulebook.web;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.InvalidText.Mistake;
import org.quarterlight.web.Choice;
import org.springframework.util.MultiValueMap;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/**
 * A sheet as a form: its name, a row for each limit, and the numbers of its zones. What a row does not show (kinds,
 * vehicles, what is counted) stays as it is in the text that the form began with.
 */
final class SheetForm {
    private static final List<String> MEASURED = List.of("count", "earlier-repairs", "ends-at-edge", "age-days");
    private static final List<String> FACTS = List.of("layers", "condition", "crosses-zone", "view");
    private static final Pattern OF_A_RULE = Pattern.compile("rules\\[(\\d+)]\\.?(.*)");

    final String name;
    final List<Row> rows;
    final List<ZoneNumber> zones;
    final Map<String, String> errors = new LinkedHashMap<>();
    final List<String> others = new ArrayList<>();

    /** One limit as it is typed. {@code of} is the rule of the text that it was, empty where it is new. */
    public record Row(
            String of,
            String rule,
            String where,
            String quantity,
            String bound,
            String limit,
            String broken,
            String document,
            String section,
            String status) {}

    /** A number of a zone's construction, and where it stands in the text. */
    public record ZoneNumber(String pointer, String label, String value) {}

    private SheetForm(String name, List<Row> rows, List<ZoneNumber> zones) {
        this.name = name;
        this.rows = rows;
        this.zones = zones;
    }

    static SheetForm of(JsonNode sheet) {
        var rows = new ArrayList<Row>();
        for (var i = 0; i < sheet.path("rules").size(); i++) {
            var rule = sheet.path("rules").get(i);
            var source = rule.path("source");
            rows.add(new Row(
                    Integer.toString(i),
                    rule.path("rule").asString("").replace('-', ' '),
                    rule.path("where").asString(""),
                    rule.path("quantity").asString(""),
                    rule.path("bound").asString(""),
                    limit(rule),
                    rule.path("ifBroken").asString(""),
                    source.path("document").asString(""),
                    source.path("section").asString(""),
                    source.path("status").asString("")));
        }
        var zones = new ArrayList<ZoneNumber>();
        sheet.path("zones").properties().forEach(zone -> {
            var ways = zone.getValue();
            for (var i = 0; i < ways.size(); i++) {
                var pointer = "/zones/" + zone.getKey() + "/" + i;
                var way = ways.size() == 1 ? "" : ", way " + (i + 1);
                ways.get(i)
                        .properties()
                        .forEach(construction -> construction.getValue().properties().stream()
                                .filter(part -> part.getValue().isNumber())
                                .forEach(part -> zones.add(new ZoneNumber(
                                        pointer + "/" + construction.getKey() + "/" + part.getKey(),
                                        SheetWords.place(zone.getKey()) + way + ": " + part(part.getKey()),
                                        part.getValue().asString()))));
            }
        });
        return new SheetForm(sheet.path("name").asString(""), rows, zones);
    }

    private static String part(String key) {
        return key.replaceAll("Mm$", "").replaceAll("([A-Z])", " $1").toLowerCase(Locale.ROOT);
    }

    private static String limit(JsonNode rule) {
        if (rule.has("limitMm")) {
            return rule.path("limitMm").asString();
        }
        if (rule.has("limitCount")) {
            return rule.path("limitCount").asString();
        }
        return String.join(
                ", ", rule.path("allowed").valueStream().map(JsonNode::asString).toList());
    }

    /** As it was sent; every row sends every field. */
    static SheetForm typed(MultiValueMap<String, String> fields) {
        var rows = new ArrayList<Row>();
        var many = Math.min(200, fields.getOrDefault("rule", List.of()).size());
        for (var i = 0; i < many; i++) {
            rows.add(new Row(
                    at(fields, "of", i),
                    at(fields, "rule", i),
                    at(fields, "where", i),
                    at(fields, "quantity", i),
                    at(fields, "bound", i),
                    at(fields, "limit", i),
                    at(fields, "broken", i),
                    at(fields, "document", i),
                    at(fields, "section", i),
                    at(fields, "status", i)));
        }
        var zones = new ArrayList<ZoneNumber>();
        for (var i = 0; i < Math.min(400, fields.getOrDefault("zone", List.of()).size()); i++) {
            zones.add(new ZoneNumber(at(fields, "zone", i), at(fields, "zoneLabel", i), at(fields, "zoneMm", i)));
        }
        return new SheetForm(Objects.requireNonNullElse(fields.getFirst("name"), ""), rows, zones);
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
        return new SheetForm(name, more, zones);
    }

    SheetForm without(int index) {
        var fewer = new ArrayList<>(rows);
        if (index >= 0 && index < fewer.size()) {
            fewer.remove(index);
        }
        return new SheetForm(name, fewer, zones);
    }

    /** The text that the form began with, changed as it was typed. */
    ObjectNode applied(ObjectNode base, JsonMapper json) {
        var sheet = base.deepCopy();
        sheet.put("name", name.strip());
        for (var zone : zones) {
            var end = zone.pointer().lastIndexOf('/');
            if (end > 0
                    && zone.pointer().startsWith("/zones/")
                    && sheet.at(zone.pointer().substring(0, end)) instanceof ObjectNode construction
                    && construction.path(zone.pointer().substring(end + 1)).isNumber()) {
                number(construction, zone.pointer().substring(end + 1), zone.value());
            }
        }
        var rules = json.createArrayNode();
        for (var row : rows) {
            var was = row.of().matches("\\d{1,3}")
                    ? base.path("rules").path(Integer.parseInt(row.of()))
                    : json.missingNode();
            rules.add(rule(row, was instanceof ObjectNode rule ? rule.deepCopy() : fresh(json)));
        }
        sheet.set("rules", rules);
        return sheet;
    }

    private static ObjectNode fresh(JsonMapper json) {
        var rule = json.createObjectNode();
        rule.put("rule", "");
        rule.put("countsFinishedRepairs", false);
        return rule;
    }

    private static ObjectNode rule(Row row, ObjectNode rule) {
        var spoken = row.rule().toLowerCase(Locale.ROOT).replaceAll("['’]", "").replaceAll("[^a-z0-9]+", "-");
        rule.put("rule", spoken.replaceAll("^-|-$", ""));
        optional(rule, "where", row.where());
        rule.put("quantity", row.quantity());
        rule.put("bound", row.bound());
        if (FACTS.contains(row.quantity())) {
            rule.remove(List.of("limitMm", "limitCount"));
            var allowed = rule.putArray("allowed");
            Arrays.stream(row.limit().split(","))
                    .map(String::strip)
                    .filter(word -> !word.isEmpty())
                    .forEach(allowed::add);
        } else if (MEASURED.contains(row.quantity())) {
            rule.remove(List.of("limitMm", "allowed"));
            number(rule, "limitCount", row.limit());
        } else {
            rule.remove(List.of("limitCount", "allowed"));
            number(rule, "limitMm", row.limit());
        }
        rule.put("ifBroken", row.broken());
        var source = rule.path("source") instanceof ObjectNode known ? known : rule.putObject("source");
        source.put("document", row.document());
        optional(source, "section", row.section());
        source.put("status", row.status());
        return rule;
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

    /** Puts each mistake beside the field that it speaks of. */
    void mistaken(List<Mistake> mistakes) {
        for (var mistake : mistakes) {
            var rule = OF_A_RULE.matcher(mistake.field());
            var field = rule.matches() ? fieldOf(rule.group(2)) : null;
            if (rule.matches() && field != null && Integer.parseInt(rule.group(1)) < rows.size()) {
                errors.putIfAbsent(field + "-" + rule.group(1), said(mistake.message()));
            } else if (mistake.field().equals("name")) {
                errors.putIfAbsent("name", name.isBlank() ? "Give it a name" : said(mistake.message()));
            } else if (mistake.field().equals("rules") && rows.isEmpty()) {
                others.add("Add a limit: a sheet without one says nothing");
            } else {
                var zone = zoneOf(mistake.field());
                if (zone >= 0) {
                    errors.putIfAbsent("zoneMm-" + zone, said(mistake.message()));
                } else {
                    others.add(mistake.field() + " " + mistake.message());
                }
            }
        }
    }

    /** Each mistake beside a field: the field's id, and the mistake with where it is. */
    List<Choice> summary() {
        return errors.entrySet().stream()
                .map(each -> {
                    var number = each.getKey().lastIndexOf('-') + 1;
                    var place = each.getKey().startsWith("zoneMm")
                            ? "Zones: "
                            : number == 0
                                    ? ""
                                    : "Limit " + (Integer.parseInt(each.getKey().substring(number)) + 1) + ": ";
                    return Choice.of(each.getKey(), place + each.getValue());
                })
                .toList();
    }

    private int zoneOf(String field) {
        for (var i = 0; i < zones.size(); i++) {
            if (zones.get(i)
                    .pointer()
                    .substring(1)
                    .replaceAll("/(\\d+)(?=/)", "[$1]")
                    .replace('/', '.')
                    .equals(field)) {
                return i;
            }
        }
        return -1;
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
            default -> field.startsWith("allowed") ? "limit" : null;
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
        if (message.contains("does not match the regex pattern")) {
            return "Say in a few words what it limits";
        }
        if (message.contains("does not have a value in the enumeration")) {
            return "Choose one";
        }
        return message.substring(0, 1).toUpperCase(Locale.ROOT) + message.substring(1);
    }
}
