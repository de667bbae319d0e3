package org.quarterlight.fleet.list;

import java.text.Normalizer;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Which field a heading means, whatever its case, accents, punctuation and bracketed additions. */
final class Headings {
    private static final Pattern BRACKETS = Pattern.compile("[(\\[]([^)\\]]*)[)\\]]");
    private static final Pattern PARTS = Pattern.compile("[/|\\n\\r;,]");
    private static final Pattern ACCENTS = Pattern.compile("\\p{M}+");
    private static final Pattern OTHERS = Pattern.compile("[^\\p{L}\\p{N}]+");
    private static final Pattern LAST_WORD = Pattern.compile("(.*?)[\\s.,\\-/]+(?:in |en )?(\\p{L}+)\\.?\\s*");
    private static final Set<String> UNITS = Set.of(
            "kg",
            "kgs",
            "kilo",
            "kilos",
            "t",
            "to",
            "tonnes",
            "tonne",
            "tons",
            "tonnen",
            "toneladas",
            "lb",
            "lbs",
            "pounds");
    private static final int LESS_SURE = 1_000;
    private static final Map<String, Meaning> KNOWN = known();

    private Headings() {}

    /** A field and how sure its heading is: 0 is the most usual heading, and one that only holds it comes last. */
    record Meaning(Field field, int rank) {}

    /** What a heading means, and the unit it names; null where it means nothing here. */
    static @Nullable Meaning meaning(String heading) {
        var whole = KNOWN.get(squashed(heading));
        if (whole != null) {
            return whole;
        }
        for (var reading : readings(heading)) {
            var meaning = KNOWN.get(squashed(reading));
            if (meaning != null) {
                // "Registration (old)" gives way to "Registration".
                return new Meaning(meaning.field(), meaning.rank() + LESS_SURE);
            }
        }
        return massWithUnit(heading);
    }

    /** The unit that a heading such as "GVW (t)" ends with; empty where it names none. */
    static String unit(String heading) {
        var brackets = BRACKETS.matcher(heading);
        while (brackets.find()) {
            var inside = withoutPreposition(brackets.group(1).strip().toLowerCase(Locale.ROOT));
            if (UNITS.contains(inside)) {
                return inside;
            }
        }
        var last = LAST_WORD.matcher(heading.strip());
        if (last.matches() && UNITS.contains(last.group(2).toLowerCase(Locale.ROOT))) {
            return last.group(2).toLowerCase(Locale.ROOT);
        }
        var run = runTogether(heading);
        return run == null ? "" : run.unit();
    }

    /** Letters and digits only, lower case, without accents. */
    static String squashed(String text) {
        var decomposed = Normalizer.normalize(text.toLowerCase(Locale.ROOT).replace("ß", "ss"), Normalizer.Form.NFKD);
        return OTHERS.matcher(ACCENTS.matcher(decomposed).replaceAll("")).replaceAll("");
    }

    /** The heading without what is bracketed, then without its unit, and then piece by piece. */
    private static List<String> readings(String heading) {
        var readings = new ArrayList<String>();
        var bare = BRACKETS.matcher(heading).replaceAll(" ").strip();
        readings.add(bare);
        var last = LAST_WORD.matcher(bare);
        if (last.matches() && UNITS.contains(last.group(2).toLowerCase(Locale.ROOT))) {
            readings.add(last.group(1));
        }
        PARTS.splitAsStream(bare).forEach(readings::add);
        var brackets = BRACKETS.matcher(heading);
        while (brackets.find()) {
            readings.add(brackets.group(1));
        }
        return readings;
    }

    /** As programs head their exports: {@code max_mass_kg}, {@code maxMassKg}. */
    private static @Nullable Meaning massWithUnit(String heading) {
        var run = runTogether(heading);
        return run == null
                ? null
                : new Meaning(run.meaning().field(), run.meaning().rank() + LESS_SURE);
    }

    private record RunTogether(Meaning meaning, String unit) {}

    private static @Nullable RunTogether runTogether(String heading) {
        var squashed = squashed(heading);
        if (KNOWN.containsKey(squashed)) {
            return null;
        }
        for (var unit : UNITS) {
            if (squashed.endsWith(unit)) {
                var meaning = KNOWN.get(squashed.substring(0, squashed.length() - unit.length()));
                if (meaning != null && meaning.field() == Field.MAXIMUM_MASS) {
                    return new RunTogether(meaning, unit);
                }
            }
        }
        return null;
    }

    private static String withoutPreposition(String text) {
        return text.startsWith("in ") || text.startsWith("en ")
                ? text.substring(3).strip()
                : text;
    }

    private static Map<String, Meaning> known() {
        var known = new HashMap<String, Meaning>();
        for (var field : Field.values()) {
            var rank = 0;
            for (var synonym : field.synonyms()) {
                var meaning = new Meaning(field, rank++);
                known.putIfAbsent(squashed(synonym), meaning);
                known.putIfAbsent(squashed(transcribed(synonym)), meaning);
            }
        }
        return Map.copyOf(known);
    }

    /** German as it is typed where the keyboard has no umlauts. */
    private static String transcribed(String text) {
        return text.toLowerCase(Locale.ROOT)
                .replace("ä", "ae")
                .replace("ö", "oe")
                .replace("ü", "ue");
    }
}
