package org.quarterlight.damage;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
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

    protected Observation() {}

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
        this.diameterMm = seen.diameterMm();
        this.diameterStandardUncertaintyMm = Objects.requireNonNullElseGet(
                seen.diameterStandardUncertaintyMm(),
                () -> BigDecimal.valueOf(
                        seen.source().standardUncertaintyMm(seen.diameterMm().doubleValue())));
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
    }

    /** As the rules read it: the crack's course where both its ends are known, else the circle. */
    DamageShape shape() {
        if (toXMm != null && toYMm != null) {
            return DamageShape.crack(
                    new Coordinate(xMm.doubleValue(), yMm.doubleValue()),
                    new Coordinate(toXMm.doubleValue(), toYMm.doubleValue()));
        }
        return DamageShape.round(xMm.doubleValue(), yMm.doubleValue(), diameterMm.doubleValue());
    }

    DamageFacts facts(boolean finishedRepair, ZoneId zone) {
        var crackLength = kind == DamageKind.CRACK && longestLegMm == null ? diameterMm : longestLegMm;
        return new DamageFacts(
                damageId,
                id,
                kind,
                shape(),
                source.positionStandardUncertaintyMm(),
                new Measured(diameterMm.doubleValue(), diameterStandardUncertaintyMm.doubleValue()),
                measured(pitMm),
                measured(crackLength),
                layers,
                condition,
                finishedRepair,
                found,
                seenAt.atZone(zone).toLocalDate());
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

    ObservationView view() {
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
                longestLegMm,
                layers,
                condition,
                source,
                found,
                note,
                seenAt,
                arrivedAt,
                seenBy);
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
