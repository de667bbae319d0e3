package org.quarterlight.photo;

/**
 * A photo in the store, as the record that owns it remembers it. Sizes in pixels as it is shown, upright.
 *
 * @param sha256 of the bytes as they came, in hexadecimal: its name in the store
 */
public record PhotoFile(String sha256, String mediaType, long bytes, int width, int height) {}
