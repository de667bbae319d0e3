package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * How one rule of one sheet came out for one damage. Lengths in mm, {@code conformity} the probability that the rule is
 * kept (JCGM 106:2012, normal); both are null where the rule reads no length or nobody measured it. {@code where} names
 * the zone that was looked at, {@code seen} and {@code allowed} tell of facts that are not lengths, {@code glass} says
 * {@code generic} where the distance was taken on a pattern that nobody has corrected yet. A rule about a zone is
 * answered by whatever keeps it best: the length itself, or the distance to the zone.
 */
public record Finding(
        Question question,
        String rule,
        Quantity quantity,
        @JsonInclude(JsonInclude.Include.NON_NULL) @Nullable String where,
        @Nullable Double measuredMm,
        @Nullable Double standardUncertaintyMm,
        Bound bound,
        @Nullable Double limitMm,
        @Nullable Double marginMm,
        @JsonInclude(JsonInclude.Include.NON_NULL) @Nullable String seen,
        @JsonInclude(JsonInclude.Include.NON_NULL) @Nullable List<String> allowed,
        @Nullable Double conformity,
        Result result,
        @JsonInclude(JsonInclude.Include.NON_NULL) @Nullable Grade ifBroken,
        @JsonInclude(JsonInclude.Include.NON_NULL) @Nullable String glass,
        @Nullable SheetReference sheet,
        Source source) {
    public Finding {
        allowed = allowed == null ? null : List.copyOf(allowed);
    }

    /** Our own idea of "close to a limit": within three standard uncertainties, or this share of the limit, or this far. */
    static final double NEAR_UNCERTAINTIES = 3;

    static final double NEAR_SHARE = 0.1;
    static final double NEAR_DISTANCE_MM = 5;

    /** Whether the rule is kept, but only just. */
    public boolean nearLimit() {
        if (result != Result.YES || marginMm == null || limitMm == null || standardUncertaintyMm == null) {
            return false;
        }
        var near = quantity.isDistance()
                ? Math.max(NEAR_DISTANCE_MM, NEAR_UNCERTAINTIES * standardUncertaintyMm)
                : Math.max(NEAR_SHARE * limitMm, NEAR_UNCERTAINTIES * standardUncertaintyMm);
        return marginMm <= near;
    }
}
