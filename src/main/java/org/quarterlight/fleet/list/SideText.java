package org.quarterlight.fleet.list;

import java.util.Set;
import org.quarterlight.glass.SteeringSide;

/** Left or right, in three languages. */
final class SideText {
    private static final Set<String> LEFT = Set.of(
            "left",
            "l",
            "lhd",
            "lefthand",
            "lefthanddrive",
            "links",
            "li",
            "ll",
            "linkslenker",
            "linkslenkung",
            "izquierda",
            "izquierdo",
            "izq",
            "izda",
            "izqda",
            "i",
            "volantealaizquierda");
    private static final Set<String> RIGHT = Set.of(
            "right",
            "r",
            "rhd",
            "righthand",
            "righthanddrive",
            "rechts",
            "re",
            "rl",
            "rechtslenker",
            "rechtslenkung",
            "derecha",
            "derecho",
            "dcha",
            "der",
            "d",
            "volantealaderecha");

    private SideText() {}

    static Parsed<SteeringSide> parse(String text) {
        var word = Headings.squashed(text);
        if (LEFT.contains(word)) {
            return new Parsed.Value<>(SteeringSide.LEFT);
        }
        return RIGHT.contains(word)
                ? new Parsed.Value<>(SteeringSide.RIGHT)
                : new Parsed.Wrong<>("says " + Parsed.quoted(text) + "; it is read as left or right");
    }
}
