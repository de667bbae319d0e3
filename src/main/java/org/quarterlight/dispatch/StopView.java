package org.quarterlight.dispatch;

import java.time.Instant;
import java.time.ZoneId;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.Work;

/**
 * A stop of a van's day with its times.
 *
 * @param km driven to it
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
        double km,
        int travelMinutes,
        Instant arrives,
        Instant begins,
        Instant ends,
        int minutes,
        @Nullable String flag) {}
