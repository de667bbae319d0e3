package org.quarterlight.glass;

import static org.quarterlight.glass.Paper.number;

/** What fills the zones. Cells and lines are px on the screen, whatever the glass measures. */
final class Patterns {
    private Patterns() {}

    static void write(Paper paper, String prefix) {
        open(paper, prefix, "stipple", 7, "");
        dot(paper, 1.75, 1.75);
        dot(paper, 5.25, 5.25);
        paper.raw("</pattern>");
        open(paper, prefix, "permitted", 11, " patternTransform=\"rotate(45)\"");
        line(paper, Pen.PERMITTED_HATCH, 5.5, 0, 5.5, 11, 1);
        paper.raw("</pattern>");
        open(paper, prefix, "uprights", 9, "");
        line(paper, Pen.UPRIGHTS, 4.5, 0, 4.5, 9, 1);
        paper.raw("</pattern>");
        open(paper, prefix, "camera", 7, " patternTransform=\"rotate(45)\"");
        line(paper, Pen.CAMERA_HATCH, 3.5, 0, 3.5, 7, 0.9);
        line(paper, Pen.CAMERA_HATCH, 0, 3.5, 7, 3.5, 0.9);
        paper.raw("</pattern>");
    }

    private static void open(Paper paper, String prefix, String name, double cellPx, String more) {
        var cell = number(paper.mm(cellPx));
        paper.raw("<pattern id=\"" + prefix + "-" + name + "\" patternUnits=\"userSpaceOnUse\" width=\"" + cell
                + "\" height=\"" + cell + "\"" + more + ">");
    }

    private static void dot(Paper paper, double xPx, double yPx) {
        paper.raw("<circle cx=\"" + number(paper.mm(xPx)) + "\" cy=\"" + number(paper.mm(yPx)) + "\" r=\""
                + number(paper.mm(0.9)) + "\"" + paper.ink(Pen.STIPPLE, "ink") + "/>");
    }

    private static void line(Paper paper, Pen pen, double x1, double y1, double x2, double y2, double widthPx) {
        paper.raw("<path d=\"M" + number(paper.mm(x1)) + " " + number(paper.mm(y1)) + "L" + number(paper.mm(x2)) + " "
                + number(paper.mm(y2)) + "\"" + paper.ink(pen, "ink") + " stroke-width=\""
                + number(paper.mm(widthPx)) + "\"/>");
    }
}
