package org.quarterlight.web;

import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;

/**
 * When a form was sent that a device had to keep until it had a network. Two headers tell it, so that the form itself stays
 * the same however often it is sent: {@code Done-At}, by the device's clock, and {@code Device-Ahead-Ms}, how far that clock
 * is ahead of the service's, as measured once for all that is sent together; measured anew for each, the seconds of a slow
 * network would put phases on top of each other. Phones set their clock when the network returns, so a device remembers how
 * far ahead it was when something was done: where that differs, it sends that, and in {@code Device-Clock-Changed-Ms} by how
 * much.
 *
 * @param deviceTime null where the form came at once
 * @param clockChanged how far the device's clock was put forward between doing and sending; null where it was left alone
 * @param what the last word of the address that it was sent to
 */
public record DoneAt(
        @Nullable Instant deviceTime,
        Duration ahead,
        @Nullable Duration clockChanged,
        String what) {
    static final String TIME = "Done-At";
    static final String AHEAD = "Device-Ahead-Ms";
    static final String CHANGED = "Device-Clock-Changed-Ms";

    private static final String UNUSABLE = "This is no time that a device would tell";
    private static final long LONGEST_AHEAD_MS = Duration.ofDays(1).toMillis();

    /** A clock that has lost its battery begins decades ago. */
    private static final long MOST_CHANGED_MS = Duration.ofDays(36_525).toMillis();

    /** It came at once. */
    public static final DoneAt NOW = new DoneAt(null, Duration.ZERO, null, "");

    private static final ThreadLocal<DoneAt> CURRENT = new ThreadLocal<>();

    /** Of the form that this thread answers; empty where it came at once. */
    public static Optional<DoneAt> current() {
        return Optional.ofNullable(CURRENT.get());
    }

    static void forget() {
        CURRENT.remove();
    }

    DoneAt bound() {
        if (deviceTime != null) {
            CURRENT.set(this);
        }
        return this;
    }

    static DoneAt read(@Nullable String time, @Nullable String aheadMs, @Nullable String changedMs, String path) {
        if (time == null) {
            return NOW;
        }
        try {
            var ahead = Long.parseLong(Objects.requireNonNullElse(aheadMs, "0"));
            if (ahead < -LONGEST_AHEAD_MS || ahead > LONGEST_AHEAD_MS) {
                throw new Invalid(
                        "doneAt", "The clock of this device is more than a day off. Set it, and send this again");
            }
            var told = Instant.parse(time);
            if (!Typed.usable(told)) {
                throw new Invalid("doneAt", UNUSABLE);
            }
            var changed = changedMs == null ? null : Long.valueOf(changedMs);
            if (changed != null && (changed < -MOST_CHANGED_MS || changed > MOST_CHANGED_MS)) {
                throw new Invalid("doneAt", UNUSABLE);
            }
            return new DoneAt(
                    told,
                    Duration.ofMillis(ahead),
                    changed == null ? null : Duration.ofMillis(changed),
                    path.substring(path.lastIndexOf('/') + 1));
        } catch (DateTimeParseException | NumberFormatException e) {
            throw new Invalid("doneAt", UNUSABLE);
        }
    }

    /** By the service's clock; null where it came at once. */
    public @Nullable Instant at() {
        return deviceTime == null ? null : deviceTime.minus(ahead);
    }

    /** What the device's clock says at this moment of the service's; null where it came at once. */
    public @Nullable Instant deviceClock(Instant now) {
        return deviceTime == null ? null : now.plus(ahead);
    }
}
