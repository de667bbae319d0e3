package org.quarterlight.eligibility;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.BrokenSheet.Problem;
import tools.jackson.core.JacksonException;
import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonToken;
import tools.jackson.core.exc.StreamConstraintsException;
import tools.jackson.core.exc.UnexpectedEndOfInputException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * A JSON text with the line of each of its values, so that a mistake can be shown where it was made. What no sheet has
 * (depth, endless lists, names, texts and numbers, characters that are none) is refused while it is read, before anything
 * looks at it as a whole.
 */
final class LocatedJson {
    private static final JsonMapper JSON = JsonMapper.builder().build();

    private static final int DEEPEST = 12;
    private static final int MOST_VALUES = 20_000;
    private static final int MOST_ENTRIES = 200;
    private static final int LONGEST_NAME = 80;
    private static final int LONGEST_TEXT = 2_000;
    private static final int LONGEST_NUMBER = 30;

    private final JsonNode root;
    private final Spot whole;

    private LocatedJson(JsonNode root, Spot whole) {
        this.root = root;
        this.whole = whole;
    }

    /** A value of the text: its line, and where it stands; its pointer is written only when it is asked for. */
    private static final class Spot {
        private final @Nullable Spot parent;
        private final String segment;
        private final int line;
        private final Map<String, Spot> parts = new HashMap<>(0);

        Spot(@Nullable Spot parent, String segment, int line) {
            this.parent = parent;
            this.segment = segment;
            this.line = line;
        }

        String pointer() {
            return parent == null ? "" : parent.pointer() + "/" + escaped(segment);
        }
    }

    static LocatedJson read(String name, String text) {
        try {
            var whole = spots(name, text);
            if (whole == null) {
                throw new BrokenSheet(name, List.of(new Problem(1, "sheet", "is empty")));
            }
            return new LocatedJson(JSON.readTree(text), whole);
        } catch (JacksonException e) {
            var place = e.getLocation();
            var line = place == null ? 1 : Math.max(1, place.getLineNr());
            throw new BrokenSheet(name, List.of(new Problem(line, "sheet", "is no JSON: " + said(e))));
        }
    }

    /** In words of ours: those of the parser speak of its own parts. */
    private static String said(JacksonException e) {
        if (e instanceof UnexpectedEndOfInputException) {
            return "it ends too early";
        }
        if (e instanceof StreamConstraintsException) {
            return "a name, a text or a number in it is endless";
        }
        var place = e.getLocation();
        return place == null || place.getColumnNr() < 1
                ? "it cannot be read"
                : "it cannot be read at character " + place.getColumnNr() + " of the line";
    }

    private static @Nullable Spot spots(String name, String text) {
        try (var parser = JSON.createParser(text)) {
            Spot whole = null;
            Spot within = null;
            var depth = 0;
            var values = 0;
            for (var token = parser.nextToken(); token != null; token = parser.nextToken()) {
                if (token == JsonToken.PROPERTY_NAME) {
                    continue;
                }
                if (token == JsonToken.END_ARRAY || token == JsonToken.END_OBJECT) {
                    within = within == null ? null : within.parent;
                    depth--;
                    continue;
                }
                var line = parser.currentTokenLocation().getLineNr();
                if (whole != null && within == null) {
                    throw broken(name, line, "sheet", "goes on after its end");
                }
                var spot = within == null ? new Spot(null, "", line) : part(name, within, parser, line);
                whole = whole == null ? spot : whole;
                if (++values > MOST_VALUES) {
                    throw broken(name, line, "sheet", "has more than " + MOST_VALUES + " values");
                }
                check(name, spot, token, parser);
                if (token == JsonToken.START_ARRAY || token == JsonToken.START_OBJECT) {
                    if (++depth > DEEPEST) {
                        throw broken(name, line, "sheet", "is nested deeper than " + DEEPEST + " levels");
                    }
                    within = spot;
                }
            }
            return whole;
        }
    }

    private static Spot part(String name, Spot within, JsonParser parser, int line) {
        var member = parser.currentName();
        var segment = member == null ? Integer.toString(within.parts.size()) : member;
        if (within.parts.size() >= MOST_ENTRIES) {
            throw broken(name, line, field(within.pointer()), "has more than " + MOST_ENTRIES + " entries");
        }
        if (segment.length() > LONGEST_NAME) {
            throw broken(
                    name,
                    line,
                    field(within.pointer()),
                    "has a name of more than " + LONGEST_NAME + " characters: \"" + segment.substring(0, 20) + "…\"");
        }
        if (!isText(segment)) {
            throw broken(name, line, field(within.pointer()), "has a name with a character that is none");
        }
        var spot = new Spot(within, segment, line);
        if (within.parts.putIfAbsent(segment, spot) != null) {
            throw broken(name, line, field(spot.pointer()), "is a duplicate: the name stands twice");
        }
        return spot;
    }

    private static void check(String name, Spot spot, JsonToken token, JsonParser parser) {
        var wrong = switch (token) {
            case VALUE_STRING -> {
                var text = parser.getString();
                yield text.length() > LONGEST_TEXT
                        ? "has more than " + LONGEST_TEXT + " characters"
                        : isText(text) ? null : "holds a character that is none";
            }
            case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT ->
                isNumber(parser.getString())
                        ? null
                        : "is a number out of all reason, or of more than " + LONGEST_NUMBER + " digits";
            default -> null;
        };
        if (wrong != null) {
            throw broken(name, spot.line, field(spot.pointer()), wrong);
        }
    }

    private static boolean isNumber(String written) {
        return written.length() <= LONGEST_NUMBER && Double.isFinite(Double.parseDouble(written));
    }

    /** Characters that pages, paper and the database can all hold: XML 1.0, section 2.2. */
    private static boolean isText(String text) {
        return text.codePoints()
                .allMatch(point -> point >= ' '
                        ? (point < 0x7F || point > 0x9F)
                                && (point < 0xD800 || point > 0xDFFF)
                                && point != 0xFFFE
                                && point != 0xFFFF
                        : point == '\t' || point == '\n' || point == '\r');
    }

    private static BrokenSheet broken(String name, int line, String field, String message) {
        return new BrokenSheet(name, List.of(new Problem(line, field, message)));
    }

    JsonNode root() {
        return root;
    }

    /** Where members of this name stand, in no order. */
    List<String> pointersTo(String member) {
        var found = new ArrayList<String>();
        collect(whole, member, found);
        return found;
    }

    private static void collect(Spot spot, String member, List<String> found) {
        for (var part : spot.parts.values()) { // no deeper than what was read
            if (part.segment.equals(member)) {
                found.add(part.pointer());
            }
            collect(part, member, found);
        }
    }

    boolean has(String pointer) {
        return nearest(pointer).pointer().equals(pointer);
    }

    /** Of the value itself or, where it is missing, of what should hold it. */
    int line(String pointer) {
        return nearest(pointer).line;
    }

    private Spot nearest(String pointer) {
        var spot = whole;
        if (!pointer.isEmpty()) {
            for (var segment : pointer.substring(1).split("/", -1)) {
                var part = spot.parts.get(segment.replace("~1", "/").replace("~0", "~"));
                if (part == null) {
                    break;
                }
                spot = part;
            }
        }
        return spot;
    }

    Problem problem(String pointer, String message) {
        return new Problem(line(pointer), field(pointer), message);
    }

    static String escaped(String segment) {
        return segment.replace("~", "~0").replace("/", "~1");
    }

    /** {@code /rules/2/limitMm} as people write it: {@code rules[2].limitMm}. */
    static String field(String pointer) {
        var field = pointer.replaceAll("/(\\d+)(?=/|$)", "[$1]").replace('/', '.');
        return field.isEmpty() ? "sheet" : field.substring(field.startsWith(".") ? 1 : 0);
    }
}
