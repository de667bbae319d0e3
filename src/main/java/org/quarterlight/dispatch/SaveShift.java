package org.quarterlight.dispatch;

import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** All that is known of a shift. Without a technician nobody is out with the van on that day. */
public record SaveShift(
        @NotNull UUID van,
        @NotNull LocalDate day,
        @Nullable UUID technician,
        @NotNull LocalTime startsAt,
        @NotNull LocalTime endsAt) {
    /** As it is, for a change of some of it. */
    public static SaveShift of(ShiftView shift) {
        return new SaveShift(shift.van(), shift.day(), shift.technician(), shift.startsAt(), shift.endsAt());
    }
}
