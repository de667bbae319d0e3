package org.quarterlight.fleet.web;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.PatternView;
import org.quarterlight.glass.CameraArea;
import org.quarterlight.glass.Equipment;
import org.quarterlight.glass.GlassMeasurements;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.TracedOutline;
import org.quarterlight.glass.Wiper;
import org.quarterlight.kernel.Invalid;

/** What every glass has besides its outline, as it is typed. */
abstract class GlassForm {
    static final String MISSING = "Measure it";
    private static final int MOST_WIPERS = 4;

    @NotBlank(message = "Give the pattern a name")
    @Nullable
    String name;

    @NotNull(message = MISSING)
    @Nullable
    Double rakeDegrees;

    @NotNull(message = "Say on which side the steering wheel is")
    @Nullable
    SteeringSide steeringSide;

    @NotNull(message = MISSING)
    @Nullable
    Double wheelOffsetMm;

    @NotNull(message = MISSING)
    @Nullable
    Double wheelTopMm;

    @NotNull(message = MISSING)
    @Nullable
    Double eyeOffsetMm;

    @NotNull(message = MISSING)
    @Nullable
    Double eyeHeightMm;

    @NotNull(message = MISSING)
    @Nullable
    Double edgeBandMm;

    @Nullable
    Double cameraCentreXMm;

    @Nullable
    Double cameraWidthMm;

    @Nullable
    Double cameraHeightMm;

    Set<Equipment> equipment = EnumSet.noneOf(Equipment.class);

    List<WiperForm> wipers = new ArrayList<>();

    /** The version that the form was filled from. */
    int version;

    /** One wiper; one without a single number is none. */
    static class WiperForm {
        @Nullable
        Double pivotXMm;

        @Nullable
        Double pivotYMm;

        @Nullable
        Double innerRadiusMm;

        @Nullable
        Double outerRadiusMm;

        @Nullable
        Double fromDegrees;

        @Nullable
        Double toDegrees;

        static WiperForm of(Wiper wiper) {
            var form = new WiperForm();
            form.pivotXMm = wiper.pivotXMm();
            form.pivotYMm = wiper.pivotYMm();
            form.innerRadiusMm = wiper.innerRadiusMm();
            form.outerRadiusMm = wiper.outerRadiusMm();
            form.fromDegrees = wiper.fromDegrees();
            form.toDegrees = wiper.toDegrees();
            return form;
        }

        boolean isEmpty() {
            return pivotXMm == null
                    && pivotYMm == null
                    && innerRadiusMm == null
                    && outerRadiusMm == null
                    && fromDegrees == null
                    && toDegrees == null;
        }

        Wiper wiper() {
            if (pivotXMm == null
                    || pivotYMm == null
                    || innerRadiusMm == null
                    || outerRadiusMm == null
                    || fromDegrees == null
                    || toDegrees == null) {
                throw new Invalid("wipers", "A wiper has all six numbers, or none");
            }
            return new Wiper(pivotXMm, pivotYMm, innerRadiusMm, outerRadiusMm, fromDegrees, toDegrees);
        }
    }

    final void fillBesides(PatternView pattern) {
        var measured = pattern.measurements();
        name = pattern.name();
        rakeDegrees = measured.rakeDegrees();
        steeringSide = measured.steeringSide();
        wheelOffsetMm = measured.wheelOffsetMm();
        wheelTopMm = measured.wheelTopMm();
        eyeOffsetMm = measured.eyeOffsetMm();
        eyeHeightMm = measured.eyeHeightMm();
        edgeBandMm = measured.edgeBandMm();
        var camera = measured.cameraArea();
        if (camera != null) {
            cameraCentreXMm = camera.centreXMm();
            cameraWidthMm = camera.widthMm();
            cameraHeightMm = camera.heightMm();
        }
        equipment.addAll(measured.equipment());
        measured.wipers().forEach(wiper -> wipers.add(WiperForm.of(wiper)));
        addEmptyWipers();
        version = pattern.version();
    }

    /** Room for as many as a glass may have. */
    void addEmptyWipers() {
        while (wipers.size() < MOST_WIPERS) {
            wipers.add(new WiperForm());
        }
    }

    /** A number of a wiper as the form shows it. */
    record Cell(String name, @Nullable Double value, String label) {}

    List<List<Cell>> wiperCells() {
        var rows = new ArrayList<List<Cell>>();
        for (var wiper : wipers) {
            var at = "wipers[" + rows.size() + "].";
            var words = "Wiper " + (rows.size() + 1) + ", ";
            rows.add(List.of(
                    new Cell(at + "pivotXMm", wiper.pivotXMm, words + "pivot x"),
                    new Cell(at + "pivotYMm", wiper.pivotYMm, words + "pivot y"),
                    new Cell(at + "innerRadiusMm", wiper.innerRadiusMm, words + "blade from"),
                    new Cell(at + "outerRadiusMm", wiper.outerRadiusMm, words + "blade to"),
                    new Cell(at + "fromDegrees", wiper.fromDegrees, words + "from, degrees"),
                    new Cell(at + "toDegrees", wiper.toDegrees, words + "to, degrees")));
        }
        return rows;
    }

    private @Nullable CameraArea camera() {
        if (cameraWidthMm == null && cameraHeightMm == null) {
            return null;
        }
        if (cameraWidthMm == null || cameraHeightMm == null) {
            throw new Invalid("cameraWidthMm", "Give both width and height of the camera area, or neither");
        }
        return new CameraArea(cameraCentreXMm == null ? 0 : cameraCentreXMm, cameraWidthMm, cameraHeightMm);
    }

    /** The whole glass: these six lengths as a tape has them, of a traced outline none. */
    final GlassMeasurements measured(
            double lowerWidthMm,
            double upperWidthMm,
            double heightMm,
            double lowerBowMm,
            double upperBowMm,
            double cornerRadiusMm,
            @Nullable TracedOutline outline) {
        return new GlassMeasurements(
                lowerWidthMm,
                upperWidthMm,
                heightMm,
                lowerBowMm,
                upperBowMm,
                cornerRadiusMm,
                length(rakeDegrees),
                Objects.requireNonNull(steeringSide),
                length(wheelOffsetMm),
                length(wheelTopMm),
                length(eyeOffsetMm),
                length(eyeHeightMm),
                length(edgeBandMm),
                wipers(),
                camera(),
                equipment,
                outline);
    }

    private List<Wiper> wipers() {
        return wipers.stream()
                .filter(wiper -> !wiper.isEmpty())
                .map(WiperForm::wiper)
                .toList();
    }

    static double length(@Nullable Double typed) {
        return Objects.requireNonNull(typed);
    }
}
