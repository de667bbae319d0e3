package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Every published figure that is a limit, and the rule that carries it. The sections are those of the collection of
 * published figures: 1 roadworthiness, 2 repair. Not here, because nobody can hold a damage against them: the width of a
 * crack (49 CFR 393.60, older text), the cloudy rim of 75 mm and what lies under a mirror (Canada), zones B and C of
 * BS AU 242a:1998 whose borders were not read, the overlay of a neighbouring repair (AS/NZS 2366.1), three long cracks from
 * one impact (ROLAGS), light transmittance (VIRM 5-1, reason 9).
 */
class PublishedFiguresTests {
    private record Figure(String document, double value, String sheet, String rule) {
        @Override
        public String toString() {
            return document + ", " + value + " [" + sheet + " " + rule + "]";
        }
    }

    static Stream<Figure> figures() {
        return Stream.of(figures1(), figures2(), figures3()).flatMap(List::stream);
    }

    private static List<Figure> figures1() {
        return List.of(
                new Figure("1a, zone A width", 290, "uk-cars-roadworthiness", "size-in-drivers-zone"),
                new Figure("1a, zone A", 10, "uk-cars-roadworthiness", "size-in-drivers-zone"),
                new Figure("1a, rest", 40, "uk-cars-roadworthiness", "size-outside-drivers-zone"),
                new Figure("1b, over 3.5 t", 350, "uk-goods-and-passenger-roadworthiness", "size-in-drivers-zone"),
                new Figure("1b, up to 3.5 t", 290, "uk-goods-and-passenger-roadworthiness", "size-in-drivers-zone"),
                new Figure("1b, zone A", 10, "uk-goods-and-passenger-roadworthiness", "size-in-drivers-zone"),
                new Figure("1b, zone B", 40, "uk-goods-and-passenger-roadworthiness", "size-outside-drivers-zone"),
                new Figure("1c, top border", 51, "us-49-cfr-393-60", "size-of-damage"),
                new Figure("1c, side borders", 25, "us-49-cfr-393-60", "size-of-damage"),
                new Figure("1c, disc", 19, "us-49-cfr-393-60", "size-of-damage"),
                new Figure("1c, separation", 76, "us-49-cfr-393-60", "distance-between-damages"),
                new Figure("1c, Maryland chips", 12.7, "us-maryland", "chip-in-swept-area"),
                new Figure("1c, Maryland two cracks", 1, "us-maryland", "cracks-from-edge"),
                new Figure("1c, WV acute area", 279.4, "us-west-virginia", "acute-area-is-free"),
                new Figure("1c, WV acute area", 215.9, "us-west-virginia", "acute-area-is-free"),
                new Figure("1c, WV 1.5 in", 38.1, "us-west-virginia", "size-in-critical-area"),
                new Figure("1c, WV 1.5 in", 38.1, "us-west-virginia", "size-of-repair-in-critical-area"),
                new Figure("1c, WV 1.5 in", 38.1, "us-west-virginia", "size-of-repair-elsewhere"),
                new Figure("1c, WV 3 in", 76.2, "us-west-virginia", "length-of-repair-in-critical-area"),
                new Figure("1c, WV 6 in", 152.4, "us-west-virginia", "length-of-repair-elsewhere"),
                new Figure("1d, bullseye or star", 16, "au-light-two-reject", "size-in-area-a"),
                new Figure("1d, crack", 150, "au-light-two-reject", "crack-length"),
                new Figure("1d, bullseye or star", 16, "au-light-two-allowed", "size-in-area-a"),
                new Figure("1d, crack", 150, "au-light-two-allowed", "crack-length"),
                new Figure("1d, any two", 1, "au-light-two-reject", "two-marks-in-area-a"),
                new Figure("1d, at most two", 2, "au-light-two-allowed", "three-marks-in-area-a"),
                new Figure("1d, hairline", 30, "au-light-two-allowed", "hairline-crack-in-area-a"),
                new Figure("1d, from the edge", 75, "au-light-two-allowed", "crack-from-edge-in-area-a"),
                new Figure("1d, NHVIM", 16, "au-heavy-recalled", "size-in-area-a"),
                new Figure("1d, NHVIM", 30, "au-heavy-recalled", "hairline-crack-in-area-a"),
                new Figure("1d, NHVIM", 75, "au-heavy-recalled", "crack-from-edge-in-area-a"),
                new Figure("1d, NHVIM", 150, "au-heavy-recalled", "crack-length"),
                new Figure("1e, couple of mm", 2, "nz-virm-5-1-headrest", "small-pit-in-critical-vision-area"),
                new Figure("1e, star", 30, "nz-virm-5-1-headrest", "star-outside-critical-vision-area"),
                new Figure("1e, CVA", 300, "nz-virm-5-1-headrest", "in-critical-vision-area"),
                new Figure("1e, CVA", 90, "nz-virm-5-1-headrest", "in-critical-vision-area"),
                new Figure("1e, CVA", 65, "nz-virm-5-1-headrest", "in-critical-vision-area"),
                new Figure("2c, pit inside", 2, "as-nzs-2366-1-crack-350-headrest", "pit-inside-critical-vision-area"),
                new Figure(
                        "2c, pit outside", 5, "as-nzs-2366-1-crack-350-headrest", "pit-outside-critical-vision-area"),
                new Figure(
                        "2c, bullseye inside",
                        10,
                        "as-nzs-2366-1-crack-350-headrest",
                        "bullseye-inside-critical-vision-area"),
                new Figure(
                        "2c, bullseye outside",
                        20,
                        "as-nzs-2366-1-crack-350-headrest",
                        "bullseye-outside-critical-vision-area"),
                new Figure(
                        "2c, star-break inside",
                        15,
                        "as-nzs-2366-1-crack-350-headrest",
                        "star-inside-critical-vision-area"),
                new Figure(
                        "2c, star-break outside",
                        30,
                        "as-nzs-2366-1-crack-350-headrest",
                        "star-outside-critical-vision-area"),
                new Figure(
                        "2c, half-moon inside",
                        10,
                        "as-nzs-2366-1-crack-350-headrest",
                        "half-moon-inside-critical-vision-area"),
                new Figure(
                        "2c, half-moon outside",
                        25,
                        "as-nzs-2366-1-crack-350-headrest",
                        "half-moon-outside-critical-vision-area"),
                new Figure(
                        "2c, crack inside",
                        25,
                        "as-nzs-2366-1-crack-350-headrest",
                        "crack-inside-critical-vision-area"),
                new Figure(
                        "2c, crack outside",
                        350,
                        "as-nzs-2366-1-crack-350-headrest",
                        "crack-outside-critical-vision-area"),
                new Figure("2c, eight repairs", 7, "as-nzs-2366-1-crack-350-headrest", "repairs-on-the-glass"),
                new Figure("2c, old crack", 100, "as-nzs-2366-1-crack-350-headrest", "no-long-repaired-crack"),
                new Figure(
                        "2c, two old ones", 1, "as-nzs-2366-1-crack-350-headrest", "repairs-in-critical-vision-area"),
                new Figure("2c, pit inside", 2, "as-nzs-2366-1-crack-100-headrest", "pit-inside-critical-vision-area"),
                new Figure(
                        "2c, pit outside", 5, "as-nzs-2366-1-crack-100-headrest", "pit-outside-critical-vision-area"),
                new Figure(
                        "2c, bullseye inside",
                        10,
                        "as-nzs-2366-1-crack-100-headrest",
                        "bullseye-inside-critical-vision-area"),
                new Figure(
                        "2c, bullseye outside",
                        20,
                        "as-nzs-2366-1-crack-100-headrest",
                        "bullseye-outside-critical-vision-area"),
                new Figure(
                        "2c, star-break inside",
                        15,
                        "as-nzs-2366-1-crack-100-headrest",
                        "star-inside-critical-vision-area"),
                new Figure(
                        "2c, star-break outside",
                        30,
                        "as-nzs-2366-1-crack-100-headrest",
                        "star-outside-critical-vision-area"),
                new Figure(
                        "2c, half-moon inside",
                        10,
                        "as-nzs-2366-1-crack-100-headrest",
                        "half-moon-inside-critical-vision-area"),
                new Figure(
                        "2c, half-moon outside",
                        25,
                        "as-nzs-2366-1-crack-100-headrest",
                        "half-moon-outside-critical-vision-area"),
                new Figure(
                        "2c, crack inside",
                        25,
                        "as-nzs-2366-1-crack-100-headrest",
                        "crack-inside-critical-vision-area"),
                new Figure(
                        "2c, crack outside",
                        100,
                        "as-nzs-2366-1-crack-100-headrest",
                        "crack-outside-critical-vision-area"),
                new Figure("2c, eight repairs", 7, "as-nzs-2366-1-crack-100-headrest", "repairs-on-the-glass"),
                new Figure("2c, old crack", 100, "as-nzs-2366-1-crack-100-headrest", "no-long-repaired-crack"),
                new Figure(
                        "2c, two old ones", 1, "as-nzs-2366-1-crack-100-headrest", "repairs-in-critical-vision-area"),
                new Figure("1e, couple of mm", 2, "nz-virm-5-1-wheel", "small-pit-in-critical-vision-area"),
                new Figure("1e, star", 30, "nz-virm-5-1-wheel", "star-outside-critical-vision-area"),
                new Figure("1e, CVA", 300, "nz-virm-5-1-wheel", "in-critical-vision-area"),
                new Figure("1e, CVA", 90, "nz-virm-5-1-wheel", "in-critical-vision-area"),
                new Figure("1e, CVA", 65, "nz-virm-5-1-wheel", "in-critical-vision-area"),
                new Figure("2c, pit inside", 2, "as-nzs-2366-1-crack-350-wheel", "pit-inside-critical-vision-area"),
                new Figure("2c, pit outside", 5, "as-nzs-2366-1-crack-350-wheel", "pit-outside-critical-vision-area"));
    }

    private static List<Figure> figures2() {
        return List.of(
                new Figure(
                        "2c, bullseye inside",
                        10,
                        "as-nzs-2366-1-crack-350-wheel",
                        "bullseye-inside-critical-vision-area"),
                new Figure(
                        "2c, bullseye outside",
                        20,
                        "as-nzs-2366-1-crack-350-wheel",
                        "bullseye-outside-critical-vision-area"),
                new Figure(
                        "2c, star-break inside",
                        15,
                        "as-nzs-2366-1-crack-350-wheel",
                        "star-inside-critical-vision-area"),
                new Figure(
                        "2c, star-break outside",
                        30,
                        "as-nzs-2366-1-crack-350-wheel",
                        "star-outside-critical-vision-area"),
                new Figure(
                        "2c, half-moon inside",
                        10,
                        "as-nzs-2366-1-crack-350-wheel",
                        "half-moon-inside-critical-vision-area"),
                new Figure(
                        "2c, half-moon outside",
                        25,
                        "as-nzs-2366-1-crack-350-wheel",
                        "half-moon-outside-critical-vision-area"),
                new Figure(
                        "2c, crack inside", 25, "as-nzs-2366-1-crack-350-wheel", "crack-inside-critical-vision-area"),
                new Figure(
                        "2c, crack outside",
                        350,
                        "as-nzs-2366-1-crack-350-wheel",
                        "crack-outside-critical-vision-area"),
                new Figure("2c, eight repairs", 7, "as-nzs-2366-1-crack-350-wheel", "repairs-on-the-glass"),
                new Figure("2c, old crack", 100, "as-nzs-2366-1-crack-350-wheel", "no-long-repaired-crack"),
                new Figure("2c, two old ones", 1, "as-nzs-2366-1-crack-350-wheel", "repairs-in-critical-vision-area"),
                new Figure("2c, pit inside", 2, "as-nzs-2366-1-crack-100-wheel", "pit-inside-critical-vision-area"),
                new Figure("2c, pit outside", 5, "as-nzs-2366-1-crack-100-wheel", "pit-outside-critical-vision-area"),
                new Figure(
                        "2c, bullseye inside",
                        10,
                        "as-nzs-2366-1-crack-100-wheel",
                        "bullseye-inside-critical-vision-area"),
                new Figure(
                        "2c, bullseye outside",
                        20,
                        "as-nzs-2366-1-crack-100-wheel",
                        "bullseye-outside-critical-vision-area"),
                new Figure(
                        "2c, star-break inside",
                        15,
                        "as-nzs-2366-1-crack-100-wheel",
                        "star-inside-critical-vision-area"),
                new Figure(
                        "2c, star-break outside",
                        30,
                        "as-nzs-2366-1-crack-100-wheel",
                        "star-outside-critical-vision-area"),
                new Figure(
                        "2c, half-moon inside",
                        10,
                        "as-nzs-2366-1-crack-100-wheel",
                        "half-moon-inside-critical-vision-area"),
                new Figure(
                        "2c, half-moon outside",
                        25,
                        "as-nzs-2366-1-crack-100-wheel",
                        "half-moon-outside-critical-vision-area"),
                new Figure(
                        "2c, crack inside", 25, "as-nzs-2366-1-crack-100-wheel", "crack-inside-critical-vision-area"),
                new Figure(
                        "2c, crack outside",
                        100,
                        "as-nzs-2366-1-crack-100-wheel",
                        "crack-outside-critical-vision-area"),
                new Figure("2c, eight repairs", 7, "as-nzs-2366-1-crack-100-wheel", "repairs-on-the-glass"),
                new Figure("2c, old crack", 100, "as-nzs-2366-1-crack-100-wheel", "no-long-repaired-crack"),
                new Figure("2c, two old ones", 1, "as-nzs-2366-1-crack-100-wheel", "repairs-in-critical-vision-area"),
                new Figure("1f, band", 290, "de-repair-1986", "outside-far-view-band"),
                new Figure("1f, square", 290, "de-repair-1986", "outside-far-view-square"),
                new Figure("1f, crater", 5, "de-repair-1986", "crater"),
                new Figure("1f, crack", 50, "de-repair-1986", "legs-from-impact"),
                new Figure("1f, crack", 50, "de-repair-1986", "crack-from-impact"),
                new Figure("1f, inspection", 50, "de-periodic-inspection", "crack-length"),
                new Figure("1f and 2f, edge strip", 100, "common-practice-repair", "distance-to-edge"),
                new Figure("1g, 30 cm circle", 300, "fr-practice-unofficial", "crack-outside-circle"),
                new Figure("1g, 3 cm", 30, "fr-practice-unofficial", "impact-in-field-of-view"),
                new Figure("1g, 5 cm", 50, "fr-practice-unofficial", "large-impact-in-field-of-view"),
                new Figure("1h, crack", 50, "ca-saskatchewan", "crack-into-swept-area"),
                new Figure("1h, crack", 50, "ca-ontario", "crack-into-swept-area"),
                new Figure("1h, crack", 50, "ca-nsc-11b-recalled", "crack-into-swept-area"),
                new Figure("1h, star chip", 13, "ca-saskatchewan", "star-chip-in-swept-area"),
                new Figure("1h, star chip", 13, "ca-nsc-11b-recalled", "star-chip-in-swept-area"),
                new Figure("1h, Quebec", 12, "ca-quebec", "size-in-wiped-area"),
                new Figure("1h, Quebec strips", 75, "ca-quebec", "size-in-wiped-area"),
                new Figure("1h, British Columbia", 500, "ca-british-columbia", "crack-in-drivers-zone"),
                new Figure("1h, British Columbia", 75, "ca-british-columbia", "crack-in-drivers-zone"),
                new Figure("1h, British Columbia", 6, "ca-british-columbia", "stone-mark-in-drivers-zone"),
                new Figure("1h, British Columbia", 300, "ca-british-columbia", "crack-length"),
                new Figure("1h, British Columbia", 2, "ca-british-columbia", "number-of-long-cracks"),
                new Figure("1h, British Columbia", 150, "ca-british-columbia", "number-of-long-cracks"),
                new Figure("1h, British Columbia", 40, "ca-british-columbia", "stone-mark"),
                new Figure("1h, British Columbia", 1, "ca-british-columbia", "number-of-large-stone-marks"),
                new Figure("1h, British Columbia", 20, "ca-british-columbia", "number-of-large-stone-marks"),
                new Figure("1i, zone A", 10, "ie-cars-roadworthiness", "size-in-drivers-zone"),
                new Figure("1i, rest", 40, "ie-cars-roadworthiness", "size-outside-drivers-zone"),
                new Figure("2a", 25, "us-rolags-2014", "bullseye"),
                new Figure("2a", 25, "us-rolags-2014", "half-moon"),
                new Figure("2a", 50, "us-rolags-2014", "combination-break"),
                new Figure("2a", 75, "us-rolags-2014", "star"),
                new Figure("2a", 25, "us-rolags-2009-decision", "bullseye"),
                new Figure("2a", 25, "us-rolags-2009-decision", "half-moon"),
                new Figure("2a", 50, "us-rolags-2009-decision", "combination-break"),
                new Figure("2a", 75, "us-rolags-2009-decision", "star"),
                new Figure("2a", 25, "us-rolags-2007", "bullseye"),
                new Figure("2a", 25, "us-rolags-2007", "half-moon"),
                new Figure("2a", 50, "us-rolags-2007", "combination-break"),
                new Figure("2a", 75, "us-rolags-2007", "star"),
                new Figure("2a, 14 in", 355.6, "us-rolags-2007", "crack"),
                new Figure("2a, 6 in", 152.4, "us-rolags-2009-decision", "size"),
                new Figure("2a, 14 in", 355.6, "us-rolags-2014", "crack"),
                new Figure("2a, DPVA", 304.8, "us-rolags-2014", "size-in-viewing-area"),
                new Figure("2a, in DPVA", 25, "us-rolags-2014", "size-in-viewing-area"),
                new Figure("2a, 4 in", 100, "us-rolags-2014", "repairs-apart-in-viewing-area"));
    }

    private static List<Figure> figures3() {
        return List.of(
                new Figure("2a, 3/16 in", 4.7625, "us-rolags-2014-finished", "finished-pit-in-viewing-area"),
                new Figure("2a, quarter", 24.26, "us-older-association-advice", "size-in-acute-area"),
                new Figure("2b, 242b width", 400, "bs-au-242b-2022", "size-in-drivers-zone"),
                new Figure("2b, 242b width, heavy", 500, "bs-au-242b-2022", "size-in-drivers-zone"),
                new Figure("2b, 242b zone A", 20, "bs-au-242b-2022", "size-in-drivers-zone"),
                new Figure("2b, 242b zone B", 40, "bs-au-242b-2022", "size-outside-drivers-zone"),
                new Figure("2b, 242a width", 290, "bs-au-242a-1998", "size-in-drivers-zone"),
                new Figure("2b, 242a width, heavy", 350, "bs-au-242a-1998", "size-in-drivers-zone"),
                new Figure("2b, 242a zone A", 10, "bs-au-242a-1998", "size-in-drivers-zone"),
                new Figure("2b, 242a zone D", 40, "bs-au-242a-1998", "size-outside-drivers-zone"),
                new Figure("2f, coin", 25, "common-practice-repair-coin", "size"),
                new Figure("2f, crater", 5, "common-practice-repair-coin", "crater"),
                new Figure("2f, edge", 100, "common-practice-repair-coin", "distance-to-edge"),
                new Figure("2f, 20 mm", 20, "common-practice-repair", "size"));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("figures")
    void hasARule(Figure figure) {
        var sheet = Cases.sheet(figure.sheet());
        var rule = RegionalLimitsTests.rule(figure.sheet(), figure.rule());
        assertThat(numbers(sheet, rule)).contains(figure.value());
    }

    private static Set<Double> numbers(Sheet sheet, Rule rule) {
        var numbers = new HashSet<Double>();
        Stream.concat(Stream.of(rule), rule.counted().stream().flatMap(counted -> counted.tests().stream()))
                .forEach(read -> {
                    if (read.limitMm() != null) {
                        numbers.add(read.limitMm());
                    }
                    if (read.limitCount() != null) {
                        numbers.add(read.limitCount().doubleValue());
                    }
                });
        if (rule.where() != null) {
            sizes(sheet, rule.where(), numbers);
        }
        return numbers;
    }

    private static void sizes(Sheet sheet, String zone, Set<Double> numbers) {
        for (var drawn : sheet.zones().getOrDefault(zone, List.of())) {
            numbers.addAll(
                    switch (drawn.zone()) {
                        case Zone.Band band -> List.of(band.widthMm());
                        case Zone.Square square -> List.of(square.sideMm());
                        case Zone.Rectangle rectangle -> List.of(rectangle.widthMm(), rectangle.heightMm());
                        case Zone.Strip strip -> List.of(strip.widthMm());
                        case Zone.Inset inset -> List.of(inset.topMm(), inset.bottomMm(), inset.sidesMm());
                        case Zone.Without without -> List.<Double>of();
                        case Zone.Half half -> List.<Double>of();
                        case Zone.Union union -> List.<Double>of();
                    });
            drawn.zone().builtFrom().forEach(from -> sizes(sheet, from, numbers));
        }
    }
}
