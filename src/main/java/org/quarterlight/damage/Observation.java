package org.quarterlight.damage;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.function.BiFunction;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.DamageFacts;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.Measured;
import org.springframework.data.domain.Persistable;

/** What was seen of a damage at one time. */
@Entity
class Observation implements Persistable<UUID> {
    @Id
    private UUID id;
    /** Written by the table's default; mapped so that queries can name their side. */
    @Column(insertable = false, updatable = false)
    private @Nullable UUID tenantId;

    private UUID damageId;
    private @Enumerated(EnumType.STRING) DamageKind kind;

    @Column(name = "x_mm")
    private BigDecimal xMm;

    @Column(name = "y_mm")
    private BigDecimal yMm;

    @Column(name = "to_x_mm")
    private @Nullable BigDecimal toXMm;

    @Column(name = "to_y_mm")
    private @Nullable BigDecimal toYMm;

    private BigDecimal diameterMm;
    private BigDecimal diameterStandardUncertaintyMm;
    private @Nullable BigDecimal pitMm;
    private @Nullable BigDecimal longestLegMm;
    private @Enumerated(EnumType.STRING) @Nullable Layers layers;
    private @Enumerated(EnumType.STRING) @Nullable Condition condition;
    private @Enumerated(EnumType.STRING) Seen source;
    private @Enumerated(EnumType.STRING) @Nullable Grade found;
    private String note;
    private Instant seenAt;
    private Instant arrivedAt;
    private String seenBy;
    /** x and y of each corner in turn. */
    private BigDecimal @Nullable [] course;
    /** Length and direction of each leg in turn. */
    private BigDecimal @Nullable [] legs;

    private @Nullable BigDecimal bodyMm;
    private @Nullable LocalDate arisenOn;

    protected Observation() {}

    /** @param seen with its size */
    Observation(
            UUID id,
            UUID damageId,
            DamageKind kind,
            SeenDamage seen,
            Instant seenAt,
            Instant arrivedAt,
            String seenBy) {
        this.id = id;
        this.damageId = damageId;
        this.kind = kind;
        this.xMm = seen.xMm();
        this.yMm = seen.yMm();
        this.toXMm = seen.toXMm();
        this.toYMm = seen.toYMm();
        var size = Objects.requireNonNull(seen.diameterMm(), "how large");
        this.diameterMm = size;
        this.diameterStandardUncertaintyMm = Objects.requireNonNullElseGet(
                seen.diameterStandardUncertaintyMm(),
                () -> BigDecimal.valueOf(seen.source().standardUncertaintyMm(size.doubleValue())));
        this.pitMm = seen.pitMm();
        this.longestLegMm = seen.longestLegMm();
        this.layers = seen.layers();
        this.condition = seen.condition();
        this.source = seen.source();
        this.found = seen.found();
        this.note = Objects.requireNonNullElse(seen.note(), "").trim();
        this.seenAt = seenAt;
        this.arrivedAt = arrivedAt;
        this.seenBy = seenBy;
        this.course = seen.course().isEmpty()
                ? null
                : seen.course().stream()
                        .flatMap(corner -> Stream.of(corner.xMm(), corner.yMm()))
                        .toArray(BigDecimal[]::new);
        this.legs = seen.legs().isEmpty()
                ? null
                : seen.legs().stream()
                        .flatMap(leg -> Stream.of(leg.lengthMm(), leg.directionDegrees()))
                        .toArray(BigDecimal[]::new);
        this.bodyMm = seen.bodyMm();
        this.arisenOn = seen.arisenOn();
    }

    /** Numbers kept in turn, as the pairs that they are. */
    static <T> List<T> pairs(BigDecimal @Nullable [] numbers, BiFunction<BigDecimal, BigDecimal, T> pair) {
        var pairs = new ArrayList<T>();
        for (var i = 0; numbers != null && i + 1 < numbers.length; i += 2) {
            pairs.add(pair.apply(numbers[i], numbers[i + 1]));
        }
        return pairs;
    }

    DamageFacts facts(boolean finishedRepair, ZoneId zone) {
        var seen = view();
        var shape = seen.shape();
        return new DamageFacts(
                damageId,
                id,
                kind,
                shape,
                source.positionStandardUncertaintyMm(),
                new Measured(diameterMm.doubleValue(), diameterStandardUncertaintyMm.doubleValue()),
                measured(pitMm),
                longestLegMm != null ? measured(longestLegMm) : drawnLeg(seen, shape),
                layers,
                condition,
                finishedRepair,
                found,
                seenAt.atZone(zone).toLocalDate(),
                arisenOn,
                measured(bodyMm));
    }

    /** The longest leg that was drawn, or a crack along its course. */
    private @Nullable Measured drawnLeg(ObservationView seen, DamageShape shape) {
        var lines = shape.lines();
        if (!seen.course().isEmpty() && lines != null) {
            return new Measured(lines.getLength(), SeenDamage.drawnStandardUncertaintyMm(source));
        }
        return measured(seen.legs().stream()
                .map(Leg::lengthMm)
                .max(Comparator.naturalOrder())
                .orElse(kind == DamageKind.CRACK ? diameterMm : null));
    }

    private @Nullable Measured measured(@Nullable BigDecimal length) {
        return length == null
                ? null
                : new Measured(
                        length.doubleValue(),
                        Math.min(
                                diameterStandardUncertaintyMm.doubleValue(),
                                source.standardUncertaintyMm(length.doubleValue())));
    }

    /** A crack that was drawn is as long as its course, also where nothing was kept besides it. */
    ObservationView view() {
        var kept = kept(longestLegMm);
        return longestLegMm != null || course == null ? kept : kept(kept.courseLengthMm());
    }

    private ObservationView kept(@Nullable BigDecimal lengthMm) {
        return new ObservationView(
                id,
                kind,
                xMm,
                yMm,
                toXMm,
                toYMm,
                diameterMm,
                diameterStandardUncertaintyMm,
                pitMm,
                lengthMm,
                layers,
                condition,
                source,
                found,
                note,
                seenAt,
                arrivedAt,
                seenBy,
                pairs(course, Corner::new),
                pairs(legs, Leg::new),
                bodyMm,
                arisenOn);
    }

    @Nullable
    LocalDate arisenOn() {
        return arisenOn;
    }

    BigDecimal diameterMm() {
        return diameterMm;
    }

    UUID id() {
        return id;
    }

    Instant seenAt() {
        return seenAt;
    }

    UUID damage() {
        return damageId;
    }

    DamageKind kind() {
        return kind;
    }

    @Override
    public UUID getId() {
        return id;
    }

    /** Only ever saved when it is made. */
    @Override
    public boolean isNew() {
        return true;
    }
}
