package org.quarterlight.photo;

/** How large a photo is shown. */
public enum PhotoSize {
    /** In lists. */
    SMALL(320),
    /** To look at closely. */
    LARGE(2400);

    private final int longestSide;

    PhotoSize(int longestSide) {
        this.longestSide = longestSide;
    }

    int longestSide() {
        return longestSide;
    }
}
