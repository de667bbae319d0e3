package org.quarterlight.fleet;

/**
 * When two registrations mean one vehicle. A hyphen may part the district from the rest (B-MW 1 is not BM-W 1), but people
 * leave it out: two that differ only in hyphens and dots are the same unless both have some.
 */
final class Spelling {
    private Spelling() {}

    /** A key without hyphens and dots, as the column {@code registration_search} has it. */
    static String search(String key) {
        return key.replaceAll("[-.·]", "");
    }

    static boolean same(String key, String other) {
        if (key.equals(other)) {
            return true;
        }
        var search = search(key);
        return search.equals(search(other)) && (search.equals(key) || search.equals(other));
    }
}
