package org.quarterlight.glass;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * What a tape tells of a windscreen, along the glass, seen from outside. From these few lengths its outline, wiped area
 * and zones follow. Where the outline was traced instead, widths and height are its own, and it has no bows or round
 * corners besides.
 *
 * @param lowerWidthMm between the lower corners, before rounding
 * @param upperWidthMm between the upper corners, before rounding
 * @param heightMm in the middle
 * @param lowerBowMm how much higher the lower corners lie than the middle of the lower edge
 * @param upperBowMm how much lower the upper corners lie than the middle of the upper edge
 * @param rakeDegrees of the glass against the level
 * @param wheelOffsetMm from the middle of the glass to the steering wheel's centre line, never negative
 * @param wheelTopMm how high on the glass the top of the steering wheel stands, seen level
 * @param eyeOffsetMm from the middle of the glass to the driver's eye, never negative
 * @param eyeHeightMm how high on the glass the driver's eye looks through, seen level
 * @param edgeBandMm the printed band along the edge
 * @param outline as it was traced, null where a tape told it
 */
public record GlassMeasurements(
        double lowerWidthMm,
        double upperWidthMm,
        double heightMm,
        double lowerBowMm,
        double upperBowMm,
        double cornerRadiusMm,
        double rakeDegrees,
        SteeringSide steeringSide,
        double wheelOffsetMm,
        double wheelTopMm,
        double eyeOffsetMm,
        double eyeHeightMm,
        double edgeBandMm,
        List<Wiper> wipers,
        @Nullable CameraArea cameraArea,
        Set<Equipment> equipment,
        @Nullable TracedOutline outline) {
    private static final int MOST_WIPERS = 4;

    public GlassMeasurements {
        wipers = List.copyOf(wipers);
        equipment = Set.copyOf(equipment);
        if (outline != null) {
            lowerWidthMm = outline.widthMm();
            upperWidthMm = outline.widthMm();
            heightMm = outline.heightMm();
            lowerBowMm = 0;
            upperBowMm = 0;
            cornerRadiusMm = 0;
        }
    }

    /** As a tape alone tells it. */
    public GlassMeasurements(
            double lowerWidthMm,
            double upperWidthMm,
            double heightMm,
            double lowerBowMm,
            double upperBowMm,
            double cornerRadiusMm,
            double rakeDegrees,
            SteeringSide steeringSide,
            double wheelOffsetMm,
            double wheelTopMm,
            double eyeOffsetMm,
            double eyeHeightMm,
            double edgeBandMm,
            List<Wiper> wipers,
            @Nullable CameraArea cameraArea,
            Set<Equipment> equipment) {
        this(
                lowerWidthMm,
                upperWidthMm,
                heightMm,
                lowerBowMm,
                upperBowMm,
                cornerRadiusMm,
                rakeDegrees,
                steeringSide,
                wheelOffsetMm,
                wheelTopMm,
                eyeOffsetMm,
                eyeHeightMm,
                edgeBandMm,
                wipers,
                cameraArea,
                equipment,
                null);
    }

    /** The same glass with its outline as it was traced. */
    public GlassMeasurements traced(TracedOutline traced) {
        return new GlassMeasurements(
                lowerWidthMm,
                upperWidthMm,
                heightMm,
                lowerBowMm,
                upperBowMm,
                cornerRadiusMm,
                rakeDegrees,
                steeringSide,
                wheelOffsetMm,
                wheelTopMm,
                eyeOffsetMm,
                eyeHeightMm,
                edgeBandMm,
                wipers,
                cameraArea,
                equipment,
                traced);
    }

    /** The same glass in a vehicle steered from the other side. */
    public GlassMeasurements mirrored() {
        return new GlassMeasurements(
                lowerWidthMm,
                upperWidthMm,
                heightMm,
                lowerBowMm,
                upperBowMm,
                cornerRadiusMm,
                rakeDegrees,
                steeringSide.opposite(),
                wheelOffsetMm,
                wheelTopMm,
                eyeOffsetMm,
                eyeHeightMm,
                edgeBandMm,
                wipers.stream().map(Wiper::mirrored).toList(),
                cameraArea == null
                        ? null
                        : new CameraArea(-cameraArea.centreXMm(), cameraArea.widthMm(), cameraArea.heightMm()),
                equipment,
                outline == null ? null : outline.mirrored());
    }

    /** All that cannot be, in the order of the fields; empty where a pattern can be drawn. */
    public List<MeasurementProblem> problems() {
        var implausible = implausible();
        return implausible.isEmpty() ? GlassPattern.problems(this) : implausible;
    }

    /** Numbers that cannot be, each by itself, before anything is drawn from them. */
    List<MeasurementProblem> implausible() {
        var problems = new ArrayList<MeasurementProblem>();
        if (outline == null) {
            between(problems, "lowerWidthMm", lowerWidthMm, 300, 3500);
            between(problems, "upperWidthMm", upperWidthMm, 300, 3500);
            between(problems, "heightMm", heightMm, 200, 2500);
        } else {
            problems.addAll(outline.problems());
            outlineBetween(problems, "wide", lowerWidthMm, 300, 3500);
            outlineBetween(problems, "high", heightMm, 200, 2500);
            if (!problems.isEmpty()) {
                return problems; // bounds of the others come from it
            }
        }
        between(problems, "lowerBowMm", lowerBowMm, 0, heightMm / 3);
        between(problems, "upperBowMm", upperBowMm, 0, heightMm / 3);
        between(
                problems,
                "cornerRadiusMm",
                cornerRadiusMm,
                0,
                Math.min(heightMm, Math.min(lowerWidthMm, upperWidthMm)) / 4);
        between(problems, "rakeDegrees", rakeDegrees, 15, 90);
        var halfWidth = Math.max(lowerWidthMm, upperWidthMm) / 2;
        between(problems, "wheelOffsetMm", wheelOffsetMm, 0, halfWidth);
        between(problems, "wheelTopMm", wheelTopMm, 0, heightMm);
        between(problems, "eyeOffsetMm", eyeOffsetMm, 0, halfWidth);
        between(problems, "eyeHeightMm", eyeHeightMm, 0, heightMm);
        between(problems, "edgeBandMm", edgeBandMm, 0, 300);
        if (wipers.isEmpty() || wipers.size() > MOST_WIPERS) {
            problems.add(new MeasurementProblem("wipers", "A glass has 1 to " + MOST_WIPERS + " wipers"));
        }
        for (int i = 0; i < wipers.size(); i++) {
            check(problems, "wipers[" + i + "].", wipers.get(i), halfWidth);
        }
        if (cameraArea != null) {
            between(problems, "cameraArea.centreXMm", cameraArea.centreXMm(), -halfWidth, halfWidth);
            between(problems, "cameraArea.widthMm", cameraArea.widthMm(), 10, 2 * halfWidth);
            between(problems, "cameraArea.heightMm", cameraArea.heightMm(), 10, heightMm);
        }
        return problems;
    }

    private void check(List<MeasurementProblem> problems, String field, Wiper wiper, double halfWidth) {
        between(problems, field + "pivotXMm", wiper.pivotXMm(), -halfWidth - 300, halfWidth + 300);
        between(problems, field + "pivotYMm", wiper.pivotYMm(), -400, heightMm + 400);
        between(problems, field + "innerRadiusMm", wiper.innerRadiusMm(), 0, 2000);
        between(problems, field + "outerRadiusMm", wiper.outerRadiusMm(), 100, 2500);
        if (wiper.outerRadiusMm() <= wiper.innerRadiusMm()) {
            problems.add(new MeasurementProblem(field + "outerRadiusMm", "The blade ends further out than it begins"));
        }
        between(problems, field + "fromDegrees", wiper.fromDegrees(), -180, 360);
        between(problems, field + "toDegrees", wiper.toDegrees(), -180, 360);
        var sweep = wiper.toDegrees() - wiper.fromDegrees();
        if (!(sweep > 0 && sweep <= 200)) {
            problems.add(new MeasurementProblem(
                    field + "toDegrees", "A wiper swings by more than 0 and at most 200 degrees"));
        }
    }

    private static void outlineBetween(
            List<MeasurementProblem> problems, String word, double value, double least, double most) {
        if (problems.isEmpty() && !(value >= least && value <= most)) {
            problems.add(new MeasurementProblem(
                    "outline.corners",
                    "The outline is %d mm %s; a glass is %d to %d"
                            .formatted(Math.round(value), word, Math.round(least), Math.round(most))));
        }
    }

    private static void between(
            List<MeasurementProblem> problems, String field, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            problems.add(new MeasurementProblem(field, "Between " + Math.round(least) + " and " + Math.round(most)));
        }
    }
}
