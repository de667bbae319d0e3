package org.quarterlight.fleet.list;

/**
 * What is wrong, or doubtful, in one cell of a row.
 *
 * @param column the heading as it stands in the file; a column without one is named by its letters, "column M"
 * @param reason a clause that follows the heading: "has 16 characters, a VIN has 17"
 */
public record Problem(String column, String reason) {
    @Override
    public String toString() {
        return column + " " + reason;
    }
}
