package org.quarterlight.repair.web;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.repair.JobFilter;
import org.quarterlight.repair.JobState;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.Flag;
import org.quarterlight.web.Words;

/** A list's parameters as a filter; {@code state=open} stands for every state that is no end. */
final class JobFilters {
    private static final String OPEN = "open";

    private JobFilters() {}

    static JobFilter of(
            @Nullable String state,
            @Nullable UUID performer,
            @Nullable UUID technician,
            @Nullable Flag mine,
            @Nullable LocalDate date,
            @Nullable LocalDate dueBy,
            @Nullable UUID vehicle,
            @Nullable String search,
            JobFilter.@Nullable Sort sort) {
        var open = OPEN.equals(state);
        var one = open || state == null || state.isBlank() ? null : state(state);
        var whose = mine != null && mine.on() ? Acting.require().person() : technician;
        var usual = open || one != null && !one.isEnd() ? JobFilter.Sort.FIRST_DUE : JobFilter.Sort.NEWEST;
        return new JobFilter(one, open, performer, whose, date, dueBy, search, vehicle, sort == null ? usual : sort);
    }

    private static JobState state(String word) {
        try {
            return Words.read(JobState.class, word);
        } catch (IllegalArgumentException e) {
            throw new Invalid(
                    "state",
                    "is not one of " + OPEN + ", "
                            + Arrays.stream(JobState.values()).map(Words::of).collect(Collectors.joining(", ")));
        }
    }
}
