package org.quarterlight.dispatch;

import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.Work;

/**
 * A stop of a van's day with its times: as they were where it is begun or done, else as they are expected now.
 *
 * @param zone of the depot
 * @param opens the depot on that day; null where it does not
 * @param km driven to it
 * @param departs from the stop before
 * @param plannedBegins by the plan alone, without what has happened
 * @param minutes of work that were planned
 * @param lateMinutes behind the plan, 0 where that is too little to speak of or the stop is done
 * @param flag what is wrong with it, in words; null where it holds
 */
public record StopView(
        UUID job,
        int number,
        Work work,
        JobState state,
        String registration,
        String fleet,
        String depot,
        String address,
        String contact,
        ZoneId zone,
        @Nullable LocalTime opens,
        @Nullable LocalTime closes,
        double km,
        int travelMinutes,
        Instant departs,
        Instant arrives,
        Instant begins,
        Instant ends,
        Instant plannedBegins,
        Instant plannedEnds,
        int minutes,
        List<CureView> cures,
        int lateMinutes,
        @Nullable String flag) {
    public StopView {
        cures = List.copyOf(cures);
    }

    /** Resin under the lamp. Before it is recorded it is expected with the least time, near the end of the work. */
    public record CureView(Instant begins, Instant ends, boolean recorded) {}

    public boolean done() {
        return state == JobState.CLOSED || state == JobState.ABANDONED;
    }

    public boolean underWay() {
        return state == JobState.UNDER_WAY || state == JobState.INSPECTED;
    }

    /** Whether it can still be put elsewhere. */
    public boolean movable() {
        return !done() && !underWay();
    }

    /** Later than its plan, or than its gate. */
    public boolean runsLate() {
        return lateMinutes > 0 || flag != null;
    }
}
