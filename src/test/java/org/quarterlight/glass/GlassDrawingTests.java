package org.quarterlight.glass;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.StringReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.locationtech.jts.algorithm.Distance;
import org.locationtech.jts.algorithm.RectangleLineIntersector;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.quarterlight.glass.GlassDrawing.Look;
import org.quarterlight.glass.GlassDrawing.Size;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.xml.sax.InputSource;

class GlassDrawingTests {
    private static final GlassPattern COACH = GlassPattern.of(GenericGlass.COACH.measurements(SteeringSide.RIGHT));
    private static final String SHARP = "A <b> & \"c\" 'd'";

    private static DrawnDamage star(int number, double x, double y, @Nullable String href) {
        var shape = DamageShape.round(x, y, 24.6);
        return new DrawnDamage(
                number,
                shape,
                DamageKind.STAR_BREAK,
                "repair",
                new Measured(24.6, 0.5),
                new Measured(COACH.distanceToEdgeMm(shape), 3),
                new Measured(4.2, 0.7),
                3.1,
                12.1,
                href,
                SHARP);
    }

    private static DrawnDamage crack(int number) {
        var shape = DamageShape.crack(new Coordinate(0, 200), new Coordinate(90, 230), new Coordinate(190, 220));
        return new DrawnDamage(
                number, shape, DamageKind.CRACK, "replace", null, null, null, null, null, null, "crack, 191 mm");
    }

    private static GlassDrawing drawing(GlassPattern pattern) {
        return GlassDrawing.of(pattern)
                .damages(List.of(star(1, -353, 430, null), crack(2)))
                .zones(List.of(
                        new DrawnZone(DrawnZone.DRIVERS_ZONE, "driver's zone " + SHARP, pattern.driversZone(290)),
                        new DrawnZone(DrawnZone.EDGE_BAND, "edge band 100", pattern.edgeBand(100)),
                        new DrawnZone("other-zone", "other zone", pattern.driversBand(100))))
                .permitted(pattern.outline().buffer(-112))
                .title(SHARP);
    }

    private static Document parsed(String svg) {
        try {
            return DocumentBuilderFactory.newInstance()
                    .newDocumentBuilder()
                    .parse(new InputSource(new StringReader(svg)));
        } catch (Exception e) {
            throw new AssertionError("not well-formed: " + svg, e);
        }
    }

    private static List<Element> elements(Document document, String name) {
        var nodes = document.getElementsByTagName(name);
        return IntStream.range(0, nodes.getLength())
                .mapToObj(i -> (Element) nodes.item(i))
                .toList();
    }

    private static double number(Element element, String attribute) {
        return Double.parseDouble(element.getAttribute(attribute));
    }

    private static List<Coordinate> points(String data) {
        var points = new ArrayList<Coordinate>();
        var pair = Pattern.compile("[ML](-?[\\d.]+) (-?[\\d.]+)").matcher(data);
        while (pair.find()) {
            points.add(new Coordinate(Double.parseDouble(pair.group(1)), -Double.parseDouble(pair.group(2))));
        }
        return points;
    }

    static Stream<GlassPattern> genericPatterns() {
        return GlassPatternTests.genericGlasses().map(GlassPattern::of);
    }

    @ParameterizedTest
    @MethodSource("genericPatterns")
    void everyGenericGlassIsDrawnInEverySizeAndLook(GlassPattern pattern) {
        for (var size : Size.values()) {
            for (var look : Look.values()) {
                for (var selected : new Integer[] {null, 1, 2}) {
                    var svg = drawing(pattern)
                            .size(size)
                            .look(look)
                            .selected(selected)
                            .svg();
                    var root = parsed(svg).getDocumentElement();
                    assertThat(root.getTagName()).isEqualTo("svg");
                    assertThat(svg).doesNotContain("style=", "<style", "NaN", "Infinity");
                    assertThat(svg.contains("class=\"outline\"")).isEqualTo(look == Look.INLINE && size != Size.MINI);
                    assertThat(svg.contains("xmlns=")).isEqualTo(look != Look.INLINE);
                    assertThat(svg.contains("var(--")).isFalse();
                }
            }
        }
    }

    @ParameterizedTest
    @EnumSource(
            value = Size.class,
            names = {"S", "M", "L"})
    void pictureIsAsWideAsItsSizeAndTrueToScale(Size size) {
        var document = parsed(drawing(COACH).size(size).selected(1).svg());
        var root = document.getDocumentElement();
        var box = Stream.of(root.getAttribute("viewBox").split(" "))
                .mapToDouble(Double::parseDouble)
                .toArray();
        assertThat(number(root, "width")).isCloseTo(size.px(), within(0.1));
        var pxPerMm = number(root, "width") / box[2];
        assertThat(number(root, "height") / box[3]).isCloseTo(pxPerMm, within(1e-3));
        var outline = elements(document, "path").stream()
                .filter(path -> path.getAttribute("data-part").equals("outline"))
                .map(path -> points(path.getAttribute("d")))
                .findFirst()
                .orElseThrow();

        // The lower edge passes through the frame's origin, the upper one stands the glass's height above it.
        var lowest = outline.stream().mapToDouble(Coordinate::getY).min().orElseThrow();
        var highest = outline.stream().mapToDouble(Coordinate::getY).max().orElseThrow();
        assertThat((highest - lowest) * pxPerMm).isCloseTo(1000 * pxPerMm, within(1.0));

        // Ring and damage stand where the damage is.
        var ring = elements(document, "circle").stream()
                .filter(circle -> circle.getAttribute("class").equals("ring-selected"))
                .findFirst()
                .orElseThrow();
        assertThat((number(ring, "cx") - box[0]) * pxPerMm).isCloseTo((-353 - box[0]) * pxPerMm, within(1.0));
        assertThat((-number(ring, "cy")) * pxPerMm).isCloseTo(430 * pxPerMm, within(1.0));
        assertThat(number(ring, "r") * pxPerMm).isCloseTo(Math.max(13, 12.3 * pxPerMm + 5), within(1.0));

        // From the ring's middle to the outline as drawn it is as far as the pattern says.
        var toEdge = Double.MAX_VALUE;
        for (int i = 0; i < outline.size(); i++) {
            toEdge = Math.min(
                    toEdge,
                    Distance.pointToSegment(
                            new Coordinate(-353, 430), outline.get(i), outline.get((i + 1) % outline.size())));
        }
        var known = COACH.distanceToEdgeMm(DamageShape.round(-353, 430, 24.6)) + 12.3;
        assertThat(toEdge * pxPerMm).isCloseTo(known * pxPerMm, within(1.0));
    }

    @Test
    void dimensionLineRunsFromTheRingToTheNearestPointOfTheEdge() {
        var document = parsed(drawing(COACH).size(Size.L).selected(1).svg());
        var line = elements(document, "path").stream()
                .filter(path -> path.getAttribute("class").equals("dimension"))
                .map(path -> points(path.getAttribute("d")))
                .findFirst()
                .orElseThrow();
        var middle = new Coordinate(-353, 430);
        assertThat(line.getLast().distance(middle))
                .isCloseTo(COACH.distanceToEdgeMm(DamageShape.round(-353, 430, 0)), within(0.5));
        assertThat(elements(document, "text"))
                .extracting(Element::getTextContent)
                .contains("4.2 ± 0.7 to driver’s zone", "24.6 ± 0.5 across");
    }

    @ParameterizedTest
    @EnumSource(SteeringSide.class)
    void leadersKeepOffTheTags(SteeringSide side) {
        for (var glass : GenericGlass.values()) {
            var pattern = GlassPattern.of(glass.measurements(side));
            // Just beside the driver's zone, towards the middle.
            var x = pattern.wheelCentreMm() - Math.signum(pattern.wheelCentreMm()) * (145 + 16.5);
            for (var size : new Size[] {Size.M, Size.L}) {
                var document = parsed(drawing(pattern)
                        .damages(List.of(star(1, x, 352, null)))
                        .size(size)
                        .selected(1)
                        .svg());
                var tag = elements(document, "rect").stream()
                        .filter(rect -> rect.getAttribute("class").equals("tag-filled"))
                        .map(GlassDrawingTests::envelope)
                        .findFirst()
                        .orElseThrow();
                var lines = elements(document, "path").stream()
                        .filter(path -> path.getAttribute("class").equals("dimension"))
                        .map(path -> points(path.getAttribute("d")))
                        .toList();
                assertThat(lines).hasSizeGreaterThan(3);
                for (var line : lines) {
                    for (int i = 1; i < line.size(); i++) {
                        assertThat(new RectangleLineIntersector(tag).intersects(line.get(i - 1), line.get(i)))
                                .as("%s %s %s", glass, side, size)
                                .isFalse();
                    }
                }
            }
        }
    }

    private static Envelope envelope(Element rect) {
        var left = number(rect, "x");
        var top = -number(rect, "y");
        return new Envelope(left, left + number(rect, "width"), top - number(rect, "height"), top);
    }

    @Test
    void seatsViewIsTheMirrorsView() {
        var outside = ring(drawing(COACH).selected(1).svg());
        var seat = ring(drawing(COACH).selected(1).fromTheSeat(true).svg());
        assertThat(number(seat, "cx")).isEqualTo(-number(outside, "cx"));
        assertThat(number(seat, "cy")).isEqualTo(number(outside, "cy"));
    }

    private static Element ring(String svg) {
        return elements(parsed(svg), "circle").stream()
                .filter(circle -> circle.getAttribute("class").equals("ring-selected"))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void wordsOfPeopleStayWords() {
        var document = parsed(drawing(COACH).size(Size.L).svg());
        assertThat(elements(document, "title").getFirst().getTextContent()).isEqualTo(SHARP);
        assertThat(elements(document, "desc").getFirst().getTextContent()).contains(SHARP, "crack, 191 mm");
        var linked = parsed(GlassDrawing.of(COACH)
                .damages(List.of(star(1, 0, 400, "/damages/1?a=\"&b=<")))
                .id(SHARP)
                .svg());
        assertThat(elements(linked, "a").getFirst().getAttribute("href")).isEqualTo("/damages/1?a=\"&b=<");
        assertThat(linked.getDocumentElement().getAttribute("role")).isEqualTo("group");
        assertThat(parsed(GlassDrawing.mini(COACH, List.of(star(1, 0, 400, null))))
                        .getDocumentElement()
                        .getAttribute("aria-label"))
                .contains(SHARP);
    }

    @Test
    void idsBelongToOneDrawing() {
        var one = drawing(COACH).svg();
        var other = drawing(COACH).selected(1).svg();
        var ids = Pattern.compile(" id=\"([^\"]+)\"");
        var ofOne = ids.matcher(one).results().map(match -> match.group(1)).toList();
        var ofOther = ids.matcher(other).results().map(match -> match.group(1)).toList();
        assertThat(ofOne).hasSize(6).doesNotHaveDuplicates().doesNotContainAnyElementsOf(ofOther);
        for (var id : ofOne) {
            assertThat(Pattern.compile("(#|labelledby=\"|describedby=\")" + id)
                                    .matcher(one)
                                    .find()
                            || id.endsWith("camera"))
                    .isTrue();
        }
    }

    /** Patterns of two close ups differ in scale, so the one may not be filled with the other's. */
    @Test
    void idsBelongToOneCloseUp() {
        var drawing = drawing(COACH);
        var ids = Pattern.compile(" id=\"([^\"]+)\"");
        var ofStar = ids.matcher(drawing.closeUp(star(1, -353, 430, null)))
                .results()
                .map(match -> match.group(1))
                .toList();
        var ofCrack = ids.matcher(drawing.closeUp(crack(2)))
                .results()
                .map(match -> match.group(1))
                .toList();
        assertThat(ofStar).isNotEmpty().doesNotContainAnyElementsOf(ofCrack);
    }

    @Test
    void pickableDrawingHasNothingRoundTheGlassButItsLimits() {
        var root = parsed(drawing(COACH).pickable(true).size(Size.S).svg()).getDocumentElement();
        assertThat(root.hasAttribute("data-glass-pick")).isTrue();
        assertThat(number(root, "data-min-x")).isCloseTo(-1050, within(15.0));
        assertThat(number(root, "data-max-y")).isCloseTo(1000, within(0.1));
        var viewed = Double.parseDouble(root.getAttribute("viewBox").split(" ")[2]);
        assertThat(viewed).isLessThan(2200);
    }

    @Test
    void pickingAPlaceWhereADamageLiesLeavesNoForm() {
        var drawing = drawing(COACH).damages(List.of(star(1, -353, 430, "/damages/1")));
        assertThat(elements(parsed(drawing.svg()), "a")).hasSize(1);
        var picked = parsed(drawing.pickable(true).size(Size.S).svg());
        assertThat(elements(picked, "a")).isEmpty();
        assertThat(picked.getDocumentElement().getAttribute("role")).isEqualTo("img");
    }

    @Test
    void longCrackNeedsNoRing() {
        var large = drawing(COACH).size(Size.L).damages(List.of(crack(2))).svg();
        var small = drawing(COACH).size(Size.S).damages(List.of(crack(2))).svg();
        assertThat(large).doesNotContain("class=\"ring\"").contains("class=\"crack\"");
        assertThat(small).contains("class=\"ring\"");
    }

    @ParameterizedTest
    @EnumSource(DamageKind.class)
    void everyKindHasAPictureThatFitsItsFrame(DamageKind kind) {
        var document = parsed(GlassDrawing.kind(kind));
        assertThat(elements(document, "path").size()
                        + elements(document, "circle").size())
                .isPositive();
        for (var path : elements(document, "path")) {
            assertThat(points(path.getAttribute("d"))).allSatisfy(point -> {
                assertThat(point.x).isBetween(0.0, 64.0);
                assertThat(-point.y).isBetween(0.0, 44.0);
            });
        }
    }

    @Test
    void closeUpHoldsTheDamageInTheNextSquareThatFits() {
        var document = parsed(drawing(COACH).closeUp(star(1, -353, 430, null)));
        assertThat(document.getDocumentElement().getTextContent()).contains("40 mm across", "24.6 ± 0.5", "pit 3.1");
        var circle = elements(document, "circle").stream()
                .filter(one -> one.getAttribute("class").equals("enclosing"))
                .findFirst()
                .orElseThrow();
        assertThat(number(circle, "r")).isEqualTo(12.3);
        var band = elements(document, "circle").stream()
                .filter(one -> one.getAttribute("class").equals("uncertain"))
                .findFirst()
                .orElseThrow();
        // Two standard uncertainties of the diameter are one of the radius, outwards and inwards.
        assertThat(number(band, "stroke-width")).isEqualTo(1.0);
    }

    @Test
    void legendShowsWhatTheDrawingShows() {
        var legend = parsed(drawing(COACH).legend());
        assertThat(elements(legend, "li"))
                .extracting(Element::getTextContent)
                .containsExactly(
                        "swept area", "driver’s zone", "edge band", "other zone", "camera area", Legend.PERMITTED);
        assertThat(elements(parsed(GlassDrawing.of(COACH).zones(List.of()).legend()), "li"))
                .extracting(Element::getTextContent)
                .containsExactly("swept area", "camera area");
    }

    @Test
    void stylesheetInksEveryPenAsAFileOfItsOwnDoes() throws Exception {
        var stylesheet = Files.readString(Path.of("src/main/resources/static/css/glass.css"));
        for (var pen : Pen.values()) {
            var rule = new StringBuilder(".glass-drawing .").append(pen.word()).append(" { fill: ");
            rule.append(pen.fill() == null ? "none" : "var(--" + pen.fill() + ")")
                    .append(";");
            if (pen.stroke() != null) {
                rule.append(" stroke: var(--").append(pen.stroke()).append(");");
            }
            if (pen.widthPx() > 0) {
                rule.append(" stroke-width: ")
                        .append(Paper.number(pen.widthPx()))
                        .append("px;");
            }
            if (pen.dashPx() != null) {
                rule.append(" stroke-dasharray: ").append(pen.dashPx()).append(";");
            }
            assertThat(stylesheet).contains(rule);
        }
    }
}
