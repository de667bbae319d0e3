package org.quarterlight.rulebook.web;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.quarterlight.eligibility.Choices;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.eligibility.Simplifications;
import org.quarterlight.glass.GenericGlass;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** The words of the trade, a sentence each, and how lengths are judged, with the figures that the judge uses. */
@Controller
class GlossaryPage {
    /** The driver's zone that the sheets draw on such vehicles. */
    private static final Map<GenericGlass, Integer> ZONES = Map.of(
            GenericGlass.SMALL_CAR, 290, GenericGlass.VAN, 290, GenericGlass.RIGID_TRUCK, 350, GenericGlass.COACH, 500);

    /** How well a length is known that was seen in one way. */
    public record Doubt(String seen, String length, String place) {}

    /** How much the zones of one glass leave out. */
    public record LeftOut(String glass, int zoneMm, String widthMm, String heightPercent) {}

    @GetMapping("/glossary")
    String glossary(Model model) {
        model.addAttribute(
                "doubts",
                List.of(
                        doubt(Seen.EYE, "By eye"),
                        doubt(Seen.GAUGE, "With a gauge"),
                        doubt(Seen.PHOTO, "From a photo")));
        model.addAttribute("risk", plain(100 * Choices.standard().acceptedRiskForSafety(), 1));
        model.addAttribute("sure", plain(100 - 100 * Choices.standard().acceptedRiskForSafety(), 1));
        model.addAttribute("bow", plain(100 * Simplifications.BOWED_BY, 0));
        model.addAttribute("bowUp", plain(100 * Simplifications.BOWED_UP_BY, 0));
        model.addAttribute(
                "leftOut",
                Stream.of(GenericGlass.values()).map(GlossaryPage::leftOut).toList());
        return "glossary";
    }

    private static Doubt doubt(Seen seen, String words) {
        var least = plain(seen.atLeastMm(), 1) + " mm";
        return new Doubt(
                words,
                seen.share() == 0 ? least : plain(100 * seen.share(), 0) + " % of the length, at least " + least,
                plain(seen.positionStandardUncertaintyMm(), 1) + " mm");
    }

    private static LeftOut leftOut(GenericGlass glass) {
        var zoneMm = ZONES.getOrDefault(glass, 290);
        return new LeftOut(
                glass.title(),
                zoneMm,
                plain(Simplifications.widthMm(glass, zoneMm), 1),
                plain(100 * Simplifications.heightShare(glass), 1));
    }

    private static String plain(double value, int decimals) {
        var rounded = BigDecimal.valueOf(value)
                .setScale(decimals, RoundingMode.HALF_UP)
                .stripTrailingZeros();
        return (rounded.scale() < 0 ? rounded.setScale(0, RoundingMode.UNNECESSARY) : rounded).toPlainString();
    }
}
