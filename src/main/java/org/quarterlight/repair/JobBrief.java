package org.quarterlight.repair;

import java.math.BigDecimal;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.Corner;
import org.quarterlight.damage.Leg;
import org.quarterlight.damage.SeenShape;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.DamageFacts;
import org.quarterlight.eligibility.Finding;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.PatternReference;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.eligibility.SheetCopy;
import org.quarterlight.eligibility.SheetReference;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.GlassMeasurements;
import org.quarterlight.glass.Measured;
import org.quarterlight.glass.VehicleCategory;

/** All that a performer needs to know of another organisation's vehicle, as it was when the job was made. Lengths in mm. */
public record JobBrief(
        String fleet,
        String registration,
        @Nullable String vin,
        String vehicle,
        VehicleCategory category,
        GlassMeasurements glass,
        boolean genericGlass,
        @Nullable Double driversZoneMm,
        List<BriefDamage> damages,
        List<SheetReference> sheets,
        Place depot,
        @Nullable Accepting accepting) {
    public JobBrief {
        damages = List.copyOf(damages);
        sheets = List.copyOf(sheets);
    }

    /**
     * By what the finished repair is looked over; no brief of new glass, or from before sheets travelled with it, has one.
     *
     * @param sheets as the fleet's rules say, copied
     * @param acceptedRisk of a wrong answer about a repair, a probability
     * @param pattern as findings name it
     * @param others what else is on the glass, where a sheet reads it
     */
    public record Accepting(
            List<SheetCopy> sheets,
            double acceptedRisk,
            PatternReference pattern,
            @Nullable Double maximumMassKg,
            List<OnGlass> others) {
        public Accepting {
            sheets = List.copyOf(sheets);
            others = List.copyOf(others);
        }
    }

    /** Another damage or an earlier repair on the same glass. */
    public record OnGlass(
            UUID id,
            DamageKind kind,
            BigDecimal xMm,
            BigDecimal yMm,
            @Nullable BigDecimal toXMm,
            @Nullable BigDecimal toYMm,
            BigDecimal diameterMm,
            BigDecimal diameterStandardUncertaintyMm,
            @Nullable BigDecimal pitMm,
            Seen source,
            Instant seenAt,
            boolean repaired,
            List<Corner> course,
            List<Leg> legs,
            @Nullable BigDecimal bodyMm)
            implements SeenShape {
        public OnGlass {
            course = List.copyOf(course);
            legs = List.copyOf(legs);
        }

        DamageFacts facts(ZoneId zone) {
            return new DamageFacts(
                    id,
                    id,
                    kind,
                    shape(),
                    source.positionStandardUncertaintyMm(),
                    new Measured(diameterMm.doubleValue(), diameterStandardUncertaintyMm.doubleValue()),
                    null,
                    null,
                    null,
                    null,
                    repaired,
                    null,
                    seenAt.atZone(zone).toLocalDate());
        }
    }

    /** A damage as it was last seen and judged, with the findings that decided and the names of its photos. */
    public record BriefDamage(
            UUID id,
            int number,
            DamageKind kind,
            BigDecimal xMm,
            BigDecimal yMm,
            @Nullable BigDecimal toXMm,
            @Nullable BigDecimal toYMm,
            BigDecimal diameterMm,
            BigDecimal diameterStandardUncertaintyMm,
            @Nullable BigDecimal pitMm,
            @Nullable BigDecimal longestLegMm,
            @Nullable Layers layers,
            @Nullable Condition condition,
            Seen source,
            Instant seenAt,
            Outcome outcome,
            String sentence,
            List<String> photos,
            List<Corner> course,
            List<Leg> legs,
            @Nullable BigDecimal bodyMm,
            List<Finding> findings)
            implements SeenShape {
        @SuppressWarnings("NullAway") // a brief from before lines and findings were kept has none
        public BriefDamage {
            course = course == null ? List.of() : List.copyOf(course);
            legs = legs == null ? List.of() : List.copyOf(legs);
            photos = List.copyOf(photos);
            findings = findings == null ? List.of() : List.copyOf(findings);
        }

        /** The findings that decided, as lines of a page. */
        public List<FindingLine> lines() {
            return findings.stream().map(FindingLine::of).toList();
        }
    }

    /** Where the vehicle stands. */
    public record Place(
            UUID id,
            String name,
            String address,
            BigDecimal latitude,
            BigDecimal longitude,
            ZoneId zone,
            String country,
            Map<DayOfWeek, Hours> openingHours,
            int coveredBays,
            String contact) {
        public Place {
            openingHours = Map.copyOf(openingHours);
        }
    }

    /** From and to on one day. */
    public record Hours(LocalTime opens, LocalTime closes) {}
}
