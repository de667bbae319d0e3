package org.quarterlight.rulebook.web;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Bound;
import org.quarterlight.eligibility.Quantity;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.web.Words;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/**
 * Which damages a count counts, in a line that can be typed: {@code bullseye, star break; crack with crack length more than
 * 30 and ends at edge at most 0}. Nothing is every damage.
 */
final class CountedWords {
    static final String EXAMPLE =
            "Kinds, and what they must show, for example: bullseye, star break; crack with crack length more than 30";

    private static final JsonMapper JSON = JsonMapper.builder().build();
    private static final String EVERY = "every damage";
    private static final List<String> KINDS =
            Stream.of(DamageKind.values()).map(Words::of).toList();

    /** The longer first, so that none is taken for the beginning of another. */
    private static final Pattern TEST = Pattern.compile(
            "(" + oneOf(Stream.of(Quantity.values()).map(Quantity::word)) + ") ("
                    + oneOf(Stream.of(Bound.values()).map(Bound::word)) + ") (.{1,200})",
            Pattern.CASE_INSENSITIVE);

    private static final Pattern NUMBER = Pattern.compile("(\\d{1,8}(?:[.,]\\d{1,9})?)(?: ?mm)?");

    private CountedWords() {}

    private static String oneOf(Stream<String> words) {
        return words.map(CountedWords::spaced)
                .sorted(Comparator.comparingInt(String::length).reversed())
                .collect(Collectors.joining("|"));
    }

    private static String spaced(String word) {
        return word.replace('-', ' ');
    }

    static String of(JsonNode counted) {
        return counted.valueStream().map(CountedWords::one).collect(Collectors.joining("; "));
    }

    private static String one(JsonNode counted) {
        var kinds = counted.has("kinds")
                ? counted.path("kinds")
                        .valueStream()
                        .map(kind -> spaced(kind.asString("")))
                        .collect(Collectors.joining(", "))
                : EVERY;
        return counted.has("tests")
                ? kinds + " with "
                        + counted.path("tests")
                                .valueStream()
                                .map(CountedWords::test)
                                .collect(Collectors.joining(" and "))
                : kinds;
    }

    private static String test(JsonNode test) {
        var limit = test.has("limitMm")
                ? plain(test.path("limitMm"))
                : test.has("limitCount")
                        ? plain(test.path("limitCount"))
                        : test.path("allowed")
                                .valueStream()
                                .map(word -> spaced(word.asString("")))
                                .collect(Collectors.joining(" or "));
        return spaced(test.path("quantity").asString("")) + " "
                + spaced(test.path("bound").asString("")) + " " + limit;
    }

    private static String plain(JsonNode number) {
        return number.isNumber() ? number.decimalValue().stripTrailingZeros().toPlainString() : number.asString("");
    }

    /** Sets what a rule counts. What cannot be read stays a text, so that the check of the sheet says so. */
    static void write(String typed, ObjectNode into) {
        into.remove("counted");
        if (typed.isBlank()) {
            return;
        }
        var read = new ArrayList<ObjectNode>();
        for (var part : typed.split(";", -1)) {
            var one = counted(part.strip().replaceAll("\\s+", " "));
            if (one == null) {
                into.put("counted", typed);
                return;
            }
            read.add(one);
        }
        read.forEach(into.putArray("counted")::add);
    }

    private static @Nullable ObjectNode counted(String typed) {
        var counted = JSON.createObjectNode();
        var parts = (" " + typed).split(" with ", 2);
        var kinds = parts[0].strip();
        if (kinds.isEmpty()) {
            return null;
        }
        if (!kinds.equalsIgnoreCase(EVERY)) {
            for (var kind : kinds.split(",", -1)) {
                var word = hyphened(kind);
                if (!KINDS.contains(word)) {
                    return null;
                }
                counted.withArray("kinds").add(word);
            }
        }
        if (parts.length > 1) {
            for (var typedTest : parts[1].split(" and ", -1)) {
                var test = readTest(typedTest.strip());
                if (test == null) {
                    return null;
                }
                counted.withArray("tests").add(test);
            }
        }
        return counted.isEmpty() ? null : counted;
    }

    private static @Nullable ObjectNode readTest(String typed) {
        var match = TEST.matcher(typed);
        if (!match.matches()) {
            return null;
        }
        var quantity = hyphened(match.group(1));
        var test = JSON.createObjectNode();
        test.put("quantity", quantity);
        test.put("bound", hyphened(match.group(2)));
        var number = NUMBER.matcher(match.group(3).strip());
        if (number.matches()) {
            var limit = new BigDecimal(number.group(1).replace(',', '.'));
            test.put(SheetForm.COUNTS.contains(quantity) ? "limitCount" : "limitMm", limit);
        } else {
            Arrays.stream(match.group(3).split(" or |,"))
                    .map(CountedWords::hyphened)
                    .forEach(test.withArray("allowed")::add);
        }
        return test;
    }

    private static String hyphened(String words) {
        return words.strip().toLowerCase(Locale.ROOT).replace(' ', '-');
    }
}
