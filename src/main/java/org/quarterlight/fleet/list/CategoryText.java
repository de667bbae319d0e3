package org.quarterlight.fleet.list;

import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.VehicleCategory;

/** A UNECE category, or the everyday word for one; trucks and buses need their mass to tell the classes apart. */
final class CategoryText {
    /** "N1", "n 1", "N1G" (off road) and "M3 class III". */
    private static final Pattern CODE = Pattern.compile("([MN])[ -]?([123])(?:\\s?G)?(?:[ ,;(-].*)?");

    private static final Pattern BRACKETS = Pattern.compile("\\([^)]*\\)");
    private static final Pattern PARTS = Pattern.compile("[/,]");

    /** Limits of R.E.3: N1 up to 3.5 t, N2 up to 12 t; M2 up to 5 t. */
    private static final int N1_MOST_KG = 3_500;

    private static final int N2_MOST_KG = 12_000;
    private static final int M2_MOST_KG = 5_000;

    private static final Map<String, Kind> WORDS = words();

    private CategoryText() {}

    private enum Kind {
        CAR(List.of(
                "car",
                "passenger car",
                "saloon",
                "estate",
                "hatchback",
                "SUV",
                "MPV",
                "people carrier",
                "taxi",
                "Pkw",
                "Personenwagen",
                "Personenkraftwagen",
                "Auto",
                "turismo",
                "coche",
                "automóvil")),
        VAN(List.of(
                "van",
                "vans",
                "light van",
                "panel van",
                "car derived van",
                "LCV",
                "light commercial vehicle",
                "pickup",
                "pick-up",
                "Transporter",
                "Kleintransporter",
                "Kastenwagen",
                "Lieferwagen",
                "Lfw",
                "Nfz leicht",
                "furgoneta",
                "furgón",
                "vehículo comercial ligero")),
        TRUCK(List.of(
                "truck",
                "lorry",
                "HGV",
                "heavy goods vehicle",
                "rigid",
                "rigid truck",
                "artic",
                "tractor unit",
                "goods vehicle",
                "Lkw",
                "Lastwagen",
                "Lastkraftwagen",
                "Sattelzugmaschine",
                "Sattelschlepper",
                "SZM",
                "Zugmaschine",
                "camión",
                "camion rígido",
                "cabeza tractora",
                "tractocamión",
                "tractora")),
        MINIBUS(List.of("minibus", "minicoach", "Kleinbus", "minibús", "microbús")),
        BUS(List.of(
                "bus",
                "buses",
                "coach",
                "coaches",
                "PSV",
                "PCV",
                "single decker",
                "double decker",
                "midibus",
                "Omnibus",
                "KOM",
                "Kraftomnibus",
                "Reisebus",
                "Linienbus",
                "Gelenkbus",
                "Stadtbus",
                "autobús",
                "autocar",
                "autobús urbano"));

        @SuppressWarnings("ImmutableEnumChecker") // made by List.of
        private final List<String> words;

        Kind(List<String> words) {
            this.words = words;
        }
    }

    static Parsed<VehicleCategory> parse(String text, @Nullable Integer massKg) {
        var code = CODE.matcher(text.toUpperCase(Locale.ROOT));
        if (code.matches()) {
            return checked(VehicleCategory.valueOf(code.group(1) + code.group(2)), massKg);
        }
        var kind = kind(text);
        if (kind == null) {
            return new Parsed.Wrong<>("says " + Parsed.quoted(text)
                    + "; it is read as M1, M2, M3, N1, N2, N3 or a word such as car, van, truck, bus");
        }
        return switch (kind) {
            case CAR -> new Parsed.Value<>(VehicleCategory.M1);
            case MINIBUS ->
                new Parsed.Value<>(massKg != null && massKg > M2_MOST_KG ? VehicleCategory.M3 : VehicleCategory.M2);
            case VAN -> new Parsed.Value<>(massKg == null ? VehicleCategory.N1 : goods(massKg));
            case TRUCK ->
                massKg == null ? heaviest(text, VehicleCategory.N3, "over 12 t") : new Parsed.Value<>(goods(massKg));
            case BUS ->
                massKg == null
                        ? heaviest(text, VehicleCategory.M3, "over 5 t")
                        : new Parsed.Value<>(massKg > M2_MOST_KG ? VehicleCategory.M3 : VehicleCategory.M2);
        };
    }

    /** The word alone, without what is bracketed, or several that mean the same, as in "van / LCV". */
    private static @Nullable Kind kind(String text) {
        var bare = BRACKETS.matcher(text).replaceAll(" ");
        var whole = WORDS.get(Headings.squashed(bare));
        if (whole != null) {
            return whole;
        }
        var kinds = PARTS.splitAsStream(bare)
                .map(part -> Optional.ofNullable(WORDS.get(Headings.squashed(part))))
                .distinct()
                .toList();
        return kinds.size() == 1 ? kinds.getFirst().orElse(null) : null;
    }

    private static VehicleCategory goods(int massKg) {
        if (massKg <= N1_MOST_KG) {
            return VehicleCategory.N1;
        }
        return massKg <= N2_MOST_KG ? VehicleCategory.N2 : VehicleCategory.N3;
    }

    /** The heavier class, because rules are the stricter the heavier the vehicle. */
    private static Parsed<VehicleCategory> heaviest(String text, VehicleCategory category, String mass) {
        return new Parsed.Doubtful<>(
                category,
                "says " + Parsed.quoted(text) + " without a maximum mass; taken as " + category + ", " + mass);
    }

    private static Parsed<VehicleCategory> checked(VehicleCategory category, @Nullable Integer massKg) {
        var fits = massKg == null
                || switch (category) {
                    case M1 -> true;
                    case M2 -> massKg <= M2_MOST_KG;
                    case M3 -> massKg > M2_MOST_KG;
                    case N1, N2, N3 -> goods(massKg) == category;
                };
        return fits
                ? new Parsed.Value<>(category)
                : new Parsed.Doubtful<>(category, "says " + category + ", which does not go with " + massKg + " kg");
    }

    private static Map<String, Kind> words() {
        var words = new HashMap<String, Kind>();
        for (var kind : Kind.values()) {
            kind.words.forEach(word -> words.put(Headings.squashed(word), kind));
        }
        return Map.copyOf(words);
    }
}
