package org.quarterlight.web;

/**
 * Text as pages, paper and the database can all hold it. XML 1.0, section 2.2, has no control characters but tab and line
 * ends, no halves of surrogate pairs, and neither U+FFFE nor U+FFFF; a document with one of them is none.
 */
final class PlainText {
    private PlainText() {}

    static boolean is(String text) {
        return text.codePoints().allMatch(PlainText::drawable);
    }

    /** The text without what cannot be drawn. */
    static String of(String text) {
        return is(text)
                ? text
                : text.codePoints()
                        .filter(PlainText::drawable)
                        .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append)
                        .toString();
    }

    private static boolean half(int point) {
        return point >= 0xD800 && point <= 0xDFFF;
    }

    private static boolean drawable(int point) {
        return point >= ' '
                ? !half(point) && point != 0xFFFE && point != 0xFFFF
                : point == '\t' || point == '\n' || point == '\r';
    }
}
