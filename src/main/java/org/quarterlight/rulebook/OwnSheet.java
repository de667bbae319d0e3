package org.quarterlight.rulebook;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.kernel.InvalidText.Mistake;

/**
 * One version of an organisation's own sheet.
 *
 * @param number of the version, as verdicts name it
 * @param startedAs the id of the sheet that the first version was copied from
 * @param text JSON as in the schema of sheets
 * @param validFrom the day from which it judges, null in a draft
 * @param appliesFrom when that day begins where the organisation is
 * @param version moves with each change of a draft
 * @param mistakes what the check of today has against a text that an earlier one took; usually none
 */
public record OwnSheet(
        UUID id,
        int number,
        SheetState state,
        @Nullable String startedAs,
        Sheet sheet,
        String text,
        @Nullable LocalDate validFrom,
        @Nullable Instant appliesFrom,
        String changedBy,
        int version,
        List<Mistake> mistakes) {
    public OwnSheet {
        mistakes = List.copyOf(mistakes);
    }

    /** It says something that would be refused today. One that is published judges as it did all the same. */
    public boolean needsCorrection() {
        return !mistakes.isEmpty();
    }

    public boolean draft() {
        return state == SheetState.DRAFT;
    }

    /** Whether it judges at this time, unless a later version does. */
    public boolean applies(Instant at) {
        return appliesFrom != null && !appliesFrom.isAfter(at);
    }
}
