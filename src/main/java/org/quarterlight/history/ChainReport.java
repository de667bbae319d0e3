package org.quarterlight.history;

import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * What a look at a whole history found.
 *
 * @param lines how many lines there are
 * @param seals how many signed ends it was compared with
 * @param hash of the last line, SHA-256 in hexadecimal
 * @param faults the first of them, empty where all is as it was written
 * @param faultsInAll how many there are, also those that are not listed
 */
public record ChainReport(
        UUID organisation,
        boolean sound,
        long lines,
        long seals,
        @Nullable String hash,
        List<ChainFault> faults,
        long faultsInAll) {
    static final int LISTED_AT_MOST = 100;

    /** The same with what is not as its lines say. */
    public ChainReport with(List<ChainFault> others) {
        var all = new ArrayList<>(faults);
        others.stream().limit(Math.max(0, LISTED_AT_MOST - all.size())).forEach(all::add);
        return new ChainReport(
                organisation, sound && others.isEmpty(), lines, seals, hash, all, faultsInAll + others.size());
    }

    public ChainReport {
        faults = List.copyOf(faults);
    }
}
