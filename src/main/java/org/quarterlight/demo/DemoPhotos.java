package org.quarterlight.demo;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.GradientPaint;
import java.awt.RenderingHints;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import javax.imageio.ImageIO;

/** Pictures of a break before and after, drawn: no camera ever saw these vehicles. */
final class DemoPhotos {
    private static final int WIDTH = 960;
    private static final int HEIGHT = 720;

    private final byte[] before = draw(true);
    private final byte[] after = draw(false);

    InputStream before() {
        return new ByteArrayInputStream(before);
    }

    InputStream after() {
        return new ByteArrayInputStream(after);
    }

    private static byte[] draw(boolean broken) {
        var image = new BufferedImage(WIDTH, HEIGHT, BufferedImage.TYPE_INT_RGB);
        var pen = image.createGraphics();
        pen.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        pen.setPaint(new GradientPaint(0, 0, new Color(0x9FB4B8), WIDTH, HEIGHT, new Color(0x55676B)));
        pen.fillRect(0, 0, WIDTH, HEIGHT);
        var x = WIDTH / 2.0;
        var y = HEIGHT / 2.0;
        pen.setColor(broken ? new Color(0x101A1C) : new Color(0x7A8F93));
        pen.setStroke(new BasicStroke(broken ? 3 : 1));
        var legs = new double[][] {{190, 0.3}, {140, 1.4}, {210, 2.5}, {120, 3.5}, {170, 4.4}, {110, 5.5}};
        for (var leg : legs) {
            pen.draw(new Line2D.Double(x, y, x + leg[0] * Math.cos(leg[1]), y + leg[0] * Math.sin(leg[1])));
        }
        var radius = broken ? 26 : 10;
        pen.fill(new Ellipse2D.Double(x - radius, y - radius, 2.0 * radius, 2.0 * radius));
        pen.dispose();
        try (var out = new ByteArrayOutputStream()) {
            ImageIO.write(image, "jpg", out);
            return out.toByteArray();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
