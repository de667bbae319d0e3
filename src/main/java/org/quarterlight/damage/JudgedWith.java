package org.quarterlight.damage;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.ZoneId;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Choices;
import org.quarterlight.eligibility.VehicleFacts;

/** What a verdict was judged with besides what it names itself; kept beside it, so that it can be computed again. */
record JudgedWith(VehicleFacts vehicle, Choices choices, ZoneId zone, List<OnGlass> onGlass) {
    /** A damage of the same glass as it was last seen then, in the order of judging. */
    record OnGlass(
            UUID observation,
            boolean finishedRepair,

            @JsonInclude(JsonInclude.Include.NON_NULL) @Nullable
            AbandonedRepair abandoned) {}
}
