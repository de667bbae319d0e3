package org.quarterlight.damage.web;

import static java.util.Objects.requireNonNull;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.ObserveDamage;
import org.quarterlight.damage.ReportDamage;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.glass.DamageKind;
import org.springframework.web.multipart.MultipartFile;

/** The fields of a report. Any of them may still be missing; a command is made only of a checked form. */
class DamageForm {
    @NotNull(message = "Choose the vehicle")
    @Nullable
    UUID vehicleId;

    @NotNull(message = "Choose the drawing that comes nearest")
    @Nullable
    DamageKind kind;

    @NotNull(message = "Tap the glass where it is, or give how far across")
    @DecimalMin("-3000")
    @DecimalMax("3000")
    @Nullable
    BigDecimal xMm;

    @NotNull(message = "Tap the glass where it is, or give how far up")
    @DecimalMin("-500")
    @DecimalMax("3000")
    @Nullable
    BigDecimal yMm;

    /** Where a crack ends that begins at x and y, where somebody has said so. */
    @DecimalMin("-3000")
    @DecimalMax("3000")
    @Nullable
    BigDecimal toXMm;

    @DecimalMin("-500")
    @DecimalMax("3000")
    @Nullable
    BigDecimal toYMm;

    /** May be left out where it is drawn. */
    @DecimalMin(value = "0", inclusive = false, message = "More than 0")
    @DecimalMax("4000")
    @Nullable
    BigDecimal diameterMm;

    @DecimalMin("0")
    @DecimalMax("500")
    @Nullable
    BigDecimal uncertaintyMm;

    @DecimalMin("0")
    @DecimalMax("200")
    @Nullable
    BigDecimal pitMm;

    @DecimalMin("0")
    @DecimalMax("4000")
    @Nullable
    BigDecimal longestLegMm;

    /** "not-sure" says nothing, and is an answer all the same. */
    @NotNull(message = "Stroke the inside of the glass, then say what you felt")
    @Nullable
    String layers;

    @Nullable
    Condition condition;

    @Nullable
    Seen source;

    @Nullable
    Grade found;

    @Size(max = 1000)
    @Nullable
    String note;

    @Nullable
    List<MultipartFile> photos;

    /** A crack from end to end, a corner in each line. */
    @Size(max = 2000)
    @Nullable
    String course;

    @Valid
    List<ShapeFields.LegFields> legs = new ArrayList<>();

    @DecimalMin(value = "0", inclusive = false, message = "More than 0")
    @DecimalMax("500")
    @Nullable
    BigDecimal bodyMm;

    @Nullable
    LocalDate arisenOn;

    /** The inspection that this report was begun from, and that it leads back to. */
    @Nullable
    UUID inspection;

    /** The yard round that the inspection is part of, and where it stands. */
    @Nullable
    UUID round;

    @Nullable
    UUID past;

    /** Where the inspection goes on. */
    String backToInspection() {
        return "/inspections/" + inspection + (round == null ? "" : "?round=" + round)
                + (round == null || past == null ? "" : "&past=" + past);
    }

    ReportDamage report(Seen usual, @Nullable Instant seenAt) {
        return new ReportDamage(requireNonNull(vehicleId), requireNonNull(kind), seenAt, seen(usual));
    }

    ObserveDamage observe(Seen usual) {
        return new ObserveDamage(requireNonNull(kind), null, seen(usual));
    }

    private SeenDamage seen(Seen usual) {
        return new SeenDamage(
                requireNonNull(xMm),
                requireNonNull(yMm),
                toXMm,
                toYMm,
                diameterMm,
                uncertaintyMm,
                pitMm,
                longestLegMm,
                felt(),
                condition,
                source == null ? usual : source,
                found,
                note,
                ShapeFields.course(course),
                ShapeFields.legs(legs),
                bodyMm,
                arisenOn);
    }

    private @Nullable Layers felt() {
        return switch (String.valueOf(layers)) {
            case "outer" -> Layers.OUTER;
            case "through" -> Layers.THROUGH;
            default -> null;
        };
    }
}
