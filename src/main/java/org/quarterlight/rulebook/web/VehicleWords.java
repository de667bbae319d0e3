package org.quarterlight.rulebook.web;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.node.ObjectNode;

/** Which vehicles something is for, in a line that can be typed: {@code N2, N3 over 7500 kg; M3}. Nothing is every vehicle. */
final class VehicleWords {
    static final String EXAMPLE = "Categories and maximum mass, for example N2, N3 over 7500 kg; M3";

    private static final String MASS = "(\\d{1,6}(?:[.,]\\d{1,3})?)\\s*kg";
    private static final Pattern TEST = Pattern.compile(
            "((?:[MN][123])(?:\\s*,\\s*[MN][123])*)?\\s*(?:over\\s+" + MASS + ")?\\s*(?:up\\s+to\\s+" + MASS + ")?",
            Pattern.CASE_INSENSITIVE);

    private VehicleWords() {}

    static String of(JsonNode tests) {
        return tests.valueStream().map(VehicleWords::test).collect(Collectors.joining("; "));
    }

    private static String test(JsonNode test) {
        var words = new ArrayList<String>();
        if (test.has("categories")) {
            words.add(test.path("categories")
                    .valueStream()
                    .map(category -> category.asString(""))
                    .collect(Collectors.joining(", ")));
        }
        if (test.has("massOverKg")) {
            words.add("over " + plain(test.path("massOverKg")) + " kg");
        }
        if (test.has("massUpToKg")) {
            words.add("up to " + plain(test.path("massUpToKg")) + " kg");
        }
        return String.join(" ", words);
    }

    private static String plain(JsonNode mass) {
        return mass.isNumber() ? mass.decimalValue().stripTrailingZeros().toPlainString() : mass.asString("");
    }

    /** Sets the vehicles of a rule or a way. What cannot be read stays a text, so that the check of the sheet says so. */
    static void write(String typed, ObjectNode into) {
        into.remove("vehicles");
        if (typed.isBlank()) {
            return;
        }
        var tests = typed.split(";", -1);
        var read = new ArrayList<List<@Nullable String>>();
        for (var test : tests) {
            var match = TEST.matcher(test.strip());
            if (test.isBlank() || !match.matches()) {
                into.put("vehicles", typed);
                return;
            }
            var parts = new ArrayList<@Nullable String>();
            for (var group = 1; group <= 3; group++) {
                parts.add(match.group(group));
            }
            read.add(parts);
        }
        var vehicles = into.putArray("vehicles");
        for (var parts : read) {
            var test = vehicles.addObject();
            var categories = parts.get(0);
            if (categories != null) {
                var list = test.putArray("categories");
                for (var category : categories.split(",")) {
                    list.add(category.strip().toUpperCase(Locale.ROOT));
                }
            }
            mass(test, "massOverKg", parts.get(1));
            mass(test, "massUpToKg", parts.get(2));
        }
    }

    private static void mass(ObjectNode test, String field, @Nullable String typed) {
        if (typed != null) {
            test.put(field, new BigDecimal(typed.replace(',', '.')));
        }
    }
}
