package org.quarterlight.fleet;

import java.util.List;
import org.quarterlight.fleet.list.Problem;

/**
 * A row of a list worth telling about.
 *
 * @param number as a spreadsheet counts, from 1
 * @param problems column and clause: what is wrong or doubtful, or what changes
 */
public record ImportRow(int number, Kind kind, String registration, List<Problem> problems) {
    /** Why it is told. */
    public enum Kind {
        BAD,
        DOUBTFUL,
        CHANGED
    }
}
