package org.quarterlight.agreement;

import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Money;

/**
 * What one job costs, computed from the prices of its day and from what the same visit was charged with before. Reads no
 * clock and no database.
 *
 * @param chips repaired and charged
 * @param furtherChips those of them that are charged as further ones
 * @param work and callOut are null where no price was agreed
 */
public record Charge(
        Basis basis,
        int chips,
        int furtherChips,
        @Nullable Money work,
        @Nullable Money callOut) {

    /** Why it costs what it does. */
    public enum Basis {
        /** By the prices agreed. */
        AGREED,
        /** The repair failed: no charge. */
        FAILED,
        /** A repair that failed afterwards is made good: no charge. */
        WARRANTY,
        /** Nothing was agreed for this work: it is to be talked about. */
        NOT_AGREED
    }

    /**
     * What was done.
     *
     * @param chips of a repair; none where new glass was fitted
     */
    public record Done(boolean repair, int chips, boolean failed, boolean warranty) {}

    /**
     * What has been charged already.
     *
     * @param chip a repair on this vehicle on this day
     * @param callOut of this van to this depot on this day
     */
    public record Before(boolean chip, boolean callOut) {
        /** The visit begins. */
        public static final Before NOTHING = new Before(false, false);
    }

    /** Without prices there is no amount, and where there is nothing to pay there is no call-out to pay for either. */
    public static Charge of(Done done, @Nullable Prices prices, Before before) {
        if (done.failed() || done.warranty()) {
            var nothing = prices == null ? null : new Money(0, prices.currency());
            return new Charge(done.failed() ? Basis.FAILED : Basis.WARRANTY, 0, 0, nothing, nothing);
        }
        if (prices == null) {
            return new Charge(Basis.NOT_AGREED, 0, 0, null, null);
        }
        var callOut = new Money(before.callOut() ? 0 : prices.callOutMinor(), prices.currency());
        if (!done.repair()) {
            var newGlass = prices.replacementMinor();
            return newGlass == null
                    ? new Charge(Basis.NOT_AGREED, 0, 0, null, null)
                    : new Charge(Basis.AGREED, 0, 0, new Money(newGlass, prices.currency()), callOut);
        }
        var first = before.chip() || done.chips() == 0 ? 0 : 1;
        var further = done.chips() - first;
        var work = Math.addExact(
                Math.multiplyExact((long) first, prices.repairMinor()),
                Math.multiplyExact((long) further, prices.furtherMinor()));
        return new Charge(Basis.AGREED, done.chips(), further, new Money(work, prices.currency()), callOut);
    }

    /** Null where no price was agreed. */
    public @Nullable Money total() {
        return work == null || callOut == null
                ? null
                : new Money(Math.addExact(work.amountMinor(), callOut.amountMinor()), work.currency());
    }
}
