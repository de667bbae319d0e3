package org.quarterlight.photo;

import java.io.IOException;
import java.nio.BufferUnderflowException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import org.jspecify.annotations.Nullable;

/**
 * When a camera says that it took a photo: DateTimeOriginal of Exif (CIPA DC-008, from memory), with OffsetTimeOriginal where
 * there is one.
 *
 * @param offset null where the camera does not say which time it keeps
 */
public record TakenAt(LocalDateTime at, @Nullable ZoneOffset offset) {
    private static final DateTimeFormatter FORMAT = DateTimeFormatter.ofPattern("uuuu:MM:dd HH:mm:ss");
    private static final byte[] HEAD = "Exif\0\0".getBytes(StandardCharsets.US_ASCII);
    private static final int EXIF_DIRECTORY = 0x8769;
    private static final int ORIGINAL = 0x9003;
    private static final int OFFSET_ORIGINAL = 0x9011;
    private static final int ENTRY_BYTES = 12;
    private static final int MARKER_APP1 = 0xE1;
    private static final int MARKER_SCAN = 0xDA;

    /** What stands before the picture fits in this; an APP1 has at most 64 KiB. */
    private static final int LOOKED_AT = 256 << 10;

    /** Where the camera does not say, it keeps the time of the place. */
    public Instant in(ZoneId zone) {
        return offset == null ? at.atZone(zone).toInstant() : at.toInstant(offset);
    }

    /** Null where it says nothing that can be read: a photo needs no such time. */
    static @Nullable TakenAt of(Path file) throws IOException {
        byte[] head;
        try (var in = Files.newInputStream(file)) {
            head = in.readNBytes(LOOKED_AT);
        }
        try {
            var exif = exif(ByteBuffer.wrap(head));
            return exif == null ? null : read(exif);
        } catch (BufferUnderflowException
                | IndexOutOfBoundsException
                | IllegalArgumentException
                | DateTimeException e) {
            return null;
        }
    }

    private static @Nullable ByteBuffer exif(ByteBuffer jpeg) {
        if ((jpeg.getShort() & 0xFFFF) != 0xFFD8) {
            return null;
        }
        while (true) {
            var marker = jpeg.getShort() & 0xFF;
            var length = jpeg.getShort() & 0xFFFF;
            var segment = jpeg.slice(jpeg.position(), length - 2);
            if (marker == MARKER_SCAN) {
                return null;
            }
            if (marker == MARKER_APP1 && segment.slice(0, HEAD.length).equals(ByteBuffer.wrap(HEAD))) {
                return segment.slice(HEAD.length, segment.capacity() - HEAD.length);
            }
            jpeg.position(jpeg.position() + length - 2);
        }
    }

    private static @Nullable TakenAt read(ByteBuffer tiff) {
        tiff.order(tiff.getShort(0) == 0x4949 ? ByteOrder.LITTLE_ENDIAN : ByteOrder.BIG_ENDIAN);
        var directory = entry(tiff, tiff.getInt(4), EXIF_DIRECTORY);
        if (directory < 0) {
            return null;
        }
        var inside = tiff.getInt(directory + 8);
        var original = entry(tiff, inside, ORIGINAL);
        if (original < 0) {
            return null;
        }
        var offset = entry(tiff, inside, OFFSET_ORIGINAL);
        return new TakenAt(
                LocalDateTime.parse(text(tiff, original), FORMAT),
                offset < 0 ? null : ZoneOffset.of(text(tiff, offset)));
    }

    /** Where the entry of a tag begins; -1 where there is none. */
    private static int entry(ByteBuffer tiff, int directory, int tag) {
        var count = tiff.getShort(directory) & 0xFFFF;
        for (int i = 0; i < count; i++) {
            var at = directory + 2 + ENTRY_BYTES * i;
            if ((tiff.getShort(at) & 0xFFFF) == tag) {
                return at;
            }
        }
        return -1;
    }

    private static String text(ByteBuffer tiff, int entry) {
        var bytes = new byte[tiff.getInt(entry + 4)];
        tiff.get(tiff.getInt(entry + 8), bytes);
        return new String(bytes, StandardCharsets.US_ASCII).replace("\0", "").trim();
    }
}
