package org.quarterlight.web;

import io.nayuki.qrcodegen.QrCode;

/** A QR code (ISO/IEC 18004) as SVG: one path, a quiet zone of four modules, black on white whatever the page's look. */
public final class QrPicture {
    private static final int QUIET_MODULES = 4;

    private QrPicture() {}

    /** The picture, which a title names for whoever does not see it. */
    public static String svg(String text, String title) {
        var code = QrCode.encodeText(text, QrCode.Ecc.MEDIUM);
        var side = code.size + 2 * QUIET_MODULES;
        var path = new StringBuilder();
        for (int y = 0; y < code.size; y++) {
            for (int x = 0; x < code.size; x++) {
                if (code.getModule(x, y)) {
                    path.append("M%d %dh1v1h-1z".formatted(x + QUIET_MODULES, y + QUIET_MODULES));
                }
            }
        }
        return """
            <svg xmlns="http://www.w3.org/2000/svg" class="qr" viewBox="0 0 %d %d" width="%d" height="%d" \
            shape-rendering="crispEdges" role="img"><title>%s</title><path fill="#fff" d="M0 0h%dv%dH0z"/>\
            <path fill="#000" d="%s"/></svg>\
            """.formatted(side, side, side * 5, side * 5, escaped(title), side, side, path);
    }

    private static String escaped(String text) {
        return text.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;");
    }
}
