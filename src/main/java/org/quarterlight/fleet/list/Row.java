package org.quarterlight.fleet.list;

import java.util.List;

/**
 * One row of the list as it was read. Rows are numbered as a spreadsheet numbers them: every record of the file counts,
 * title rows, heading row and blank rows too, and a cell with line breaks makes no further row.
 */
public sealed interface Row {
    /** From 1. */
    int number();

    /** The cells as the file has them, in its order. */
    List<String> cells();

    /** A vehicle. Warnings do not keep it out. */
    record Good(int number, VehicleLine line, List<Problem> warnings, List<String> cells) implements Row {
        /** The same row, kept out for a reason that only the caller can know, such as a depot that is not there. */
        public Bad rejected(List<Problem> problems) {
            return new Bad(number, problems, cells);
        }
    }

    /** Not a vehicle until every problem is put right. */
    record Bad(int number, List<Problem> problems, List<String> cells) implements Row {}
}
