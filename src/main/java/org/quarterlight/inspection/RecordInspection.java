package org.quarterlight.inspection;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Seen;

/**
 * What an inspection found. Every damage that was open at that time is spoken of, or the rest is unchanged.
 *
 * @param occurredAt when the glass was looked at; now if left out
 * @param grade the inspector's own grade of the view through the whole glass, by the words of directive 2014/45/EU; at
 *     least the worst that was found of one damage
 * @param restUnchanged every damage that is not named is still there, as it was
 * @param source how confirmed damages were looked at; left out, their lengths keep the source they were measured by
 */
public record RecordInspection(
        @Nullable Instant occurredAt,
        @NotNull Grade grade,
        @Nullable Boolean restUnchanged,
        @Nullable Seen source,
        @Size(max = 200) @Nullable List<@NotNull @Valid SeenAgain> damages,
        @Size(max = 50) @Nullable List<@NotNull @Valid FoundNew> found,
        @Min(0) @Max(10_000_000) @Nullable Integer odometerKm,
        @Size(max = 1000) @Nullable String note) {
    /** All is as it was, and nothing impairs the view more than the damages that are known. */
    public static RecordInspection nothingNew(@Nullable Instant occurredAt) {
        return new RecordInspection(occurredAt, Grade.NONE, true, null, null, null, null, null);
    }
}
