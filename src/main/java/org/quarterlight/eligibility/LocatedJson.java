package org.quarterlight.eligibility;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.quarterlight.eligibility.BrokenSheet.Problem;
import tools.jackson.core.JacksonException;
import tools.jackson.core.JsonToken;
import tools.jackson.core.StreamReadFeature;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** A JSON text with the line of each of its values, so that a mistake can be shown where it was made. */
final class LocatedJson {
    private static final JsonMapper STRICT = JsonMapper.builder()
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .build();

    private final JsonNode root;
    private final Map<String, Integer> lines;

    private LocatedJson(JsonNode root, Map<String, Integer> lines) {
        this.root = root;
        this.lines = lines;
    }

    static LocatedJson read(String name, String text) {
        try {
            var root = STRICT.readTree(text);
            if (root == null || root.isMissingNode()) {
                throw new BrokenSheet(name, List.of(new Problem(1, "sheet", "is empty")));
            }
            return new LocatedJson(root, linesOf(text));
        } catch (JacksonException e) {
            var place = e.getLocation();
            var line = place == null ? 1 : Math.max(1, place.getLineNr());
            throw new BrokenSheet(
                    name, List.of(new Problem(line, "sheet", "is no JSON: " + firstLine(e.getOriginalMessage()))));
        }
    }

    private static Map<String, Integer> linesOf(String text) {
        var lines = new LinkedHashMap<String, Integer>();
        try (var parser = STRICT.createParser(text)) {
            for (var token = parser.nextToken(); token != null; token = parser.nextToken()) {
                if (token != JsonToken.PROPERTY_NAME && token != JsonToken.END_ARRAY && token != JsonToken.END_OBJECT) {
                    lines.putIfAbsent(
                            parser.streamReadContext().pathAsPointer().toString(),
                            parser.currentTokenLocation().getLineNr());
                }
            }
        }
        return lines;
    }

    private static String firstLine(String message) {
        return message.lines().findFirst().orElse("cannot be read");
    }

    JsonNode root() {
        return root;
    }

    Set<String> pointers() {
        return lines.keySet();
    }

    boolean has(String pointer) {
        return lines.containsKey(pointer);
    }

    /** Of the value itself or, where it is missing, of what should hold it. */
    int line(String pointer) {
        for (var at = pointer; !at.isEmpty(); at = at.substring(0, at.lastIndexOf('/'))) {
            var line = lines.get(at);
            if (line != null) {
                return line;
            }
        }
        return 1;
    }

    Problem problem(String pointer, String message) {
        return new Problem(line(pointer), field(pointer), message);
    }

    /** {@code /rules/2/limitMm} as people write it: {@code rules[2].limitMm}. */
    static String field(String pointer) {
        var field = pointer.replaceAll("/(\\d+)(?=/|$)", "[$1]").replace('/', '.');
        return field.isEmpty() ? "sheet" : field.substring(field.startsWith(".") ? 1 : 0);
    }
}
