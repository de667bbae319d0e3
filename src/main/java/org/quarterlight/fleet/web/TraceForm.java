package org.quarterlight.fleet.web;

import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Polygon;
import org.quarterlight.fleet.PatternPicture;
import org.quarterlight.fleet.PatternTrace;
import org.quarterlight.fleet.PatternView;
import org.quarterlight.fleet.SavePattern;
import org.quarterlight.fleet.ToldLength;
import org.quarterlight.glass.GlassMeasurements;
import org.quarterlight.glass.KnownLength;
import org.quarterlight.glass.OutlineCorner;
import org.quarterlight.glass.PicturePlace;
import org.quarterlight.glass.PictureScale;
import org.quarterlight.glass.TracedFrom;
import org.quarterlight.glass.TracedOutline;
import org.quarterlight.kernel.Invalid;
import org.springframework.validation.BindingResult;

/**
 * A glass whose outline is traced, as it is typed: a corner in each line, mm in the glass frame. The lengths and where the
 * frame begins on the picture come along, so that the corners lie on the picture where they were set.
 */
class TraceForm extends GlassForm {
    private static final String NUMBER = "([+\\-−]?\\d{1,6}(?:[.,]\\d{1,6})?)";
    private static final Pattern CORNER = Pattern.compile("\\s*" + NUMBER + "(?:\\s*[,;/]\\s+|\\s+)" + NUMBER + "\\s*");
    private static final Pattern LINES = Pattern.compile("\\R");
    /** How near the corners that a form begins with lie to the outline they are taken from. */
    private static final double NEAR_MM = 6;

    @Nullable
    UUID picture;

    @NotNull(message = "Say what it is traced over")
    @Nullable
    TracedFrom tracedFrom = TracedFrom.PHOTO;

    @Nullable
    Double acrossMm;

    @Nullable
    Double acrossFromX;

    @Nullable
    Double acrossFromY;

    @Nullable
    Double acrossToX;

    @Nullable
    Double acrossToY;

    @Nullable
    Double upMm;

    @Nullable
    Double upFromX;

    @Nullable
    Double upFromY;

    @Nullable
    Double upToX;

    @Nullable
    Double upToY;

    @Nullable
    Double originX;

    @Nullable
    Double originY;

    @Nullable
    String corners;

    /** How well the corners are known where no picture tells. */
    @Nullable
    Double outlineUncertaintyMm;

    /** What nobody measured: as the glass is that this one begins with. */
    Set<ToldLength> assumed = EnumSet.noneOf(ToldLength.class);

    /** What a drawing takes from the other glass while nobody has said anything of it. */
    private final Set<ToldLength> borrowed = EnumSet.noneOf(ToldLength.class);

    /** Another glass: what its outline does not tell is measured, or taken over by choice. */
    void forgetBesides() {
        forget(EnumSet.allOf(ToldLength.class));
    }

    /** For a drawing alone: the rest is as the other glass has it, until {@link #giveBack()}. */
    void borrow() {
        if (rakeDegrees == null) {
            borrowed.add(ToldLength.RAKE);
        }
        if (wheelOffsetMm == null && wheelTopMm == null) {
            borrowed.add(ToldLength.WHEEL);
        }
        if (eyeOffsetMm == null && eyeHeightMm == null) {
            borrowed.add(ToldLength.EYE);
        }
        if (edgeBandMm == null) {
            borrowed.add(ToldLength.EDGE_BAND);
        }
        if (wipers.stream().allMatch(WiperForm::isEmpty)) {
            borrowed.add(ToldLength.WIPERS);
        }
        borrowed.removeAll(assumed);
        assumed.addAll(borrowed);
    }

    void giveBack() {
        forget(borrowed);
        borrowed.clear();
    }

    private void forget(Set<ToldLength> lengths) {
        assumed.removeAll(lengths);
        for (var each : lengths) {
            switch (each) {
                case RAKE -> rakeDegrees = null;
                case WHEEL -> {
                    wheelOffsetMm = null;
                    wheelTopMm = null;
                }
                case EYE -> {
                    eyeOffsetMm = null;
                    eyeHeightMm = null;
                }
                case EDGE_BAND -> edgeBandMm = null;
                case WIPERS -> wipers.clear();
                case CAMERA_AREA -> {
                    cameraCentreXMm = null;
                    cameraWidthMm = null;
                    cameraHeightMm = null;
                }
            }
        }
    }

    /** Takes over what is chosen to be as another glass is; of what was typed besides, somebody has to say which counts. */
    void assume(PatternView like, BindingResult errors) {
        var other = like.measurements();
        var camera = other.cameraArea();
        if (assumed.contains(ToldLength.RAKE)) {
            rakeDegrees = assumed(errors, "rakeDegrees", rakeDegrees, other.rakeDegrees());
        }
        if (assumed.contains(ToldLength.WHEEL)) {
            wheelOffsetMm = assumed(errors, "wheelOffsetMm", wheelOffsetMm, other.wheelOffsetMm());
            wheelTopMm = assumed(errors, "wheelTopMm", wheelTopMm, other.wheelTopMm());
        }
        if (assumed.contains(ToldLength.EYE)) {
            eyeOffsetMm = assumed(errors, "eyeOffsetMm", eyeOffsetMm, other.eyeOffsetMm());
            eyeHeightMm = assumed(errors, "eyeHeightMm", eyeHeightMm, other.eyeHeightMm());
        }
        if (assumed.contains(ToldLength.EDGE_BAND)) {
            edgeBandMm = assumed(errors, "edgeBandMm", edgeBandMm, other.edgeBandMm());
        }
        if (assumed.contains(ToldLength.CAMERA_AREA) && camera == null && cameraWidthMm != null) {
            errors.rejectValue(
                    "cameraWidthMm", "", "Measured, or as the other glass has it (none)? Say only one of both");
        }
        if (assumed.contains(ToldLength.CAMERA_AREA) && camera != null) {
            cameraCentreXMm = assumed(errors, "cameraCentreXMm", cameraCentreXMm, camera.centreXMm());
            cameraWidthMm = assumed(errors, "cameraWidthMm", cameraWidthMm, camera.widthMm());
            cameraHeightMm = assumed(errors, "cameraHeightMm", cameraHeightMm, camera.heightMm());
        }
        if (assumed.contains(ToldLength.WIPERS)) {
            var typed = wipers.stream()
                    .filter(each -> !each.isEmpty())
                    .map(WiperForm::wiper)
                    .toList();
            if (typed.isEmpty()) {
                wipers.clear();
                other.wipers().forEach(wiper -> wipers.add(WiperForm.of(wiper)));
            } else if (!typed.equals(other.wipers())) {
                errors.rejectValue("wipers", "", "Measured, or as the other glass has them? Say only one of both");
            }
        }
    }

    private static Double assumed(BindingResult errors, String field, @Nullable Double typed, double other) {
        if (typed != null && typed != other) {
            errors.rejectValue(
                    field, "", "Measured, or as the other glass has it (" + plain(other) + ")? Say only one of both");
            return typed;
        }
        return other;
    }

    /** Begins as the pattern is; over a new picture the marks stand so that the outline fills it. */
    void fill(PatternView pattern, Polygon outline, @Nullable PatternPicture shown) {
        fillBesides(pattern);
        if (pattern.assumed() != null) {
            assumed.addAll(pattern.assumed());
        }
        var traced = pattern.measurements().outline();
        var known = traced == null ? TracedOutline.cornersOf(outline, NEAR_MM) : traced.corners();
        corners = text(TracedOutline.placed(known, 0).corners());
        outlineUncertaintyMm = traced == null ? null : rounded(traced.standardUncertaintyMm());
        var trace = pattern.trace();
        if (trace != null && (shown == null || shown.id().equals(trace.picture()))) {
            fill(trace);
        } else if (shown != null) {
            spread(shown, pattern.measurements());
        }
    }

    private void fill(PatternTrace trace) {
        picture = trace.picture();
        tracedFrom = trace.from();
        across(trace.across());
        up(trace.up());
        origin(trace.origin());
    }

    private void spread(PatternPicture shown, GlassMeasurements measured) {
        picture = shown.id();
        double width = shown.width();
        double height = shown.height();
        across(new KnownLength(
                0.1 * width,
                0.5 * height,
                0.9 * width,
                0.5 * height,
                Math.max(measured.lowerWidthMm(), measured.upperWidthMm())));
        up(new KnownLength(0.5 * width, 0.9 * height, 0.5 * width, 0.1 * height, measured.heightMm()));
        origin(new PicturePlace(0.5 * width, 0.9 * height));
    }

    private void across(KnownLength length) {
        acrossFromX = rounded(length.fromXPx());
        acrossFromY = rounded(length.fromYPx());
        acrossToX = rounded(length.toXPx());
        acrossToY = rounded(length.toYPx());
        acrossMm = rounded(length.lengthMm());
    }

    private void up(KnownLength length) {
        upFromX = rounded(length.fromXPx());
        upFromY = rounded(length.fromYPx());
        upToX = rounded(length.toXPx());
        upToY = rounded(length.toYPx());
        upMm = rounded(length.lengthMm());
    }

    private void origin(PicturePlace origin) {
        originX = rounded(origin.xPx());
        originY = rounded(origin.yPx());
    }

    SavePattern command() {
        var outline = outline();
        return saved(outline, trace());
    }

    /** Moved to where the frame belongs, wherever the corners were counted from. */
    private TracedOutline outline() {
        return TracedOutline.placed(
                corners(corners), picture == null ? Objects.requireNonNullElse(outlineUncertaintyMm, 0.0) : 0);
    }

    private @Nullable PatternTrace trace() {
        if (picture == null) {
            return null;
        }
        var across = known("across", acrossFromX, acrossFromY, acrossToX, acrossToY, acrossMm);
        var up = known("up", upFromX, upFromY, upToX, upToY, upMm);
        PictureScale.problems(across, up).stream().findFirst().ifPresent(problem -> {
            throw new Invalid("trace." + problem.field(), problem.message());
        });
        var origin =
                new PicturePlace(Objects.requireNonNullElse(originX, 0.0), Objects.requireNonNullElse(originY, 0.0));
        var frame = PictureScale.of(across, up, origin).movedBy(TracedOutline.aside(corners(corners)));
        return new PatternTrace(
                picture, Objects.requireNonNullElse(tracedFrom, TracedFrom.PHOTO), across, up, frame.origin());
    }

    private SavePattern saved(TracedOutline outline, @Nullable PatternTrace trace) {
        return new SavePattern(Objects.requireNonNull(name), measured(0, 0, 0, 0, 0, 0, outline), trace, assumed);
    }

    private static KnownLength known(
            String field,
            @Nullable Double fromX,
            @Nullable Double fromY,
            @Nullable Double toX,
            @Nullable Double toY,
            @Nullable Double mm) {
        if (mm == null) {
            throw new Invalid(field + "Mm", MISSING);
        }
        if (fromX == null || fromY == null || toX == null || toY == null) {
            throw new Invalid(field + "FromX", "Say where both ends of this length lie on the picture");
        }
        return new KnownLength(fromX, fromY, toX, toY, mm);
    }

    static String text(List<OutlineCorner> corners) {
        return corners.stream()
                .map(corner -> plain(corner.xMm()) + " " + plain(corner.yMm()))
                .collect(Collectors.joining("\n"));
    }

    private static String plain(double mm) {
        var number = BigDecimal.valueOf(mm).setScale(1, RoundingMode.HALF_UP).stripTrailingZeros();
        return number.signum() == 0 ? "0" : number.toPlainString();
    }

    private static double rounded(double value) {
        return Math.round(value * 10) / 10.0;
    }

    static List<OutlineCorner> corners(@Nullable String typed) {
        var corners = new ArrayList<OutlineCorner>();
        var number = 0;
        for (var line : LINES.split(typed == null ? "" : typed, -1)) {
            number++;
            if (line.isBlank()) {
                continue;
            }
            var match = CORNER.matcher(line);
            if (!match.matches()) {
                throw new Invalid(
                        "corners", "Line " + number + ": two numbers, across and up in mm, for example −640 120");
            }
            if (corners.size() >= TracedOutline.MOST_CORNERS) {
                throw new Invalid("corners", "At most " + TracedOutline.MOST_CORNERS + " corners");
            }
            corners.add(new OutlineCorner(number(match.group(1)), number(match.group(2))));
        }
        return corners;
    }

    private static double number(String typed) {
        return Double.parseDouble(typed.replace('−', '-').replace(',', '.'));
    }

    /** The outline and lengths as they lie on the picture, for a drawing over it; nothing where they cannot be. */
    @Nullable
    Overlay overlay(@Nullable PatternPicture shown) {
        if (shown == null || !shown.id().equals(picture)) {
            return null;
        }
        try {
            var trace = trace();
            return trace == null ? null : Overlay.of(trace, outline(), shown);
        } catch (Invalid e) {
            return new Overlay("", "", "", "0 0 " + shown.width() + " " + shown.height());
        }
    }

    /** What a picture is drawn over with, in its points. */
    public record Overlay(String outline, String across, String up, String viewBox) {
        static Overlay of(PatternTrace trace, TracedOutline outline, PatternPicture shown) {
            var scale = trace.scale();
            return new Overlay(
                    outline.corners().stream()
                            .map(scale::toPicture)
                            .map(place -> plain(place.xPx()) + "," + plain(place.yPx()))
                            .collect(Collectors.joining(" ")),
                    line(trace.across()),
                    line(trace.up()),
                    "0 0 " + shown.width() + " " + shown.height());
        }

        private static String line(KnownLength length) {
            return "M%s %sL%s %s"
                    .formatted(
                            plain(length.fromXPx()),
                            plain(length.fromYPx()),
                            plain(length.toXPx()),
                            plain(length.toYPx()));
        }
    }
}
