package org.quarterlight.web;

import org.jspecify.annotations.Nullable;

/**
 * Which part of a list is wanted, out of the parameters {@code limit} and {@code after}.
 *
 * @param limit how many at most, 1 to 200
 * @param after the cursor that the part before ended with, null for the first
 */
public record SliceRequest(int limit, @Nullable String after) {
    public static final int MOST = 200;
    static final int USUAL = 50;

    /** The first part, in the usual size. */
    public static SliceRequest first() {
        return new SliceRequest(USUAL, null);
    }

    /** As much as one part may hold, where a page shows a list whole. */
    public static SliceRequest most() {
        return new SliceRequest(MOST, null);
    }
}
