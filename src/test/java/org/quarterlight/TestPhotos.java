package org.quarterlight;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.time.LocalDateTime;
import java.time.format.DateTimeFormatter;
import javax.imageio.ImageIO;

/** Photos as a camera writes them. */
public final class TestPhotos {
    private TestPhotos() {}

    /** A JPEG with Exif that says when it was taken; the layout of TIFF from memory. */
    public static byte[] taken(LocalDateTime at, String offset) {
        var tiff = ByteBuffer.allocate(200);
        tiff.putShort((short) 0x4D4D).putShort((short) 42).putInt(8);
        tiff.putShort((short) 1); // one entry: where the Exif entries are
        entry(tiff, 0x8769, 4, 1, 26);
        tiff.putInt(0);
        tiff.putShort((short) 2);
        entry(tiff, 0x9003, 2, 20, 60);
        entry(tiff, 0x9011, 2, 7, 84);
        tiff.putInt(0);
        text(tiff, 60, DateTimeFormatter.ofPattern("uuuu:MM:dd HH:mm:ss").format(at));
        text(tiff, 84, offset);
        var jpeg = new ByteArrayOutputStream();
        try {
            ImageIO.write(new BufferedImage(64, 48, BufferedImage.TYPE_INT_RGB), "jpg", jpeg);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        var picture = jpeg.toByteArray();
        var file = ByteBuffer.allocate(picture.length + 10 + tiff.capacity());
        file.put(picture, 0, 2).putShort((short) 0xFFE1).putShort((short) (8 + tiff.capacity()));
        file.put("Exif\0\0".getBytes(StandardCharsets.US_ASCII)).put(tiff.array());
        return file.put(picture, 2, picture.length - 2).array();
    }

    private static void entry(ByteBuffer tiff, int tag, int type, int count, int value) {
        tiff.putShort((short) tag).putShort((short) type).putInt(count).putInt(value);
    }

    private static void text(ByteBuffer tiff, int at, String text) {
        tiff.put(at, (text + "\0").getBytes(StandardCharsets.US_ASCII));
    }
}
