package org.quarterlight.photo;

import com.drew.imaging.ImageProcessingException;
import com.drew.imaging.jpeg.JpegMetadataReader;
import com.drew.metadata.exif.ExifDirectoryBase;
import com.drew.metadata.exif.ExifReader;
import com.drew.metadata.exif.ExifSubIFDDirectory;
import java.io.EOFException;
import java.io.IOException;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * When a camera says that it took a photo: DateTimeOriginal of Exif (CIPA DC-008, from memory), with OffsetTimeOriginal where
 * there is one.
 *
 * @param offset null where the camera does not say which time it keeps
 */
public record TakenAt(LocalDateTime at, @Nullable ZoneOffset offset) {
    private static final DateTimeFormatter FORMAT = DateTimeFormatter.ofPattern("uuuu:MM:dd HH:mm:ss");

    private static final int FIRST_YEAR = 1990;
    private static final int LAST_YEAR = 9999;

    /** Where the camera does not say, it keeps the time of the place. */
    public Instant in(ZoneId zone) {
        return offset == null ? at.atZone(zone).toInstant() : at.toInstant(offset);
    }

    /**
     * Null where it says nothing that can be read: a photo needs no such time. Of a JPEG alone, as cameras write it: the texts of
     * a PNG are packed, and a megabyte of them unpacks to more than memory holds.
     */
    static @Nullable TakenAt of(Path file) throws IOException {
        try {
            var said = JpegMetadataReader.readMetadata(file.toFile(), List.of(new ExifReader()))
                    .getFirstDirectoryOfType(ExifSubIFDDirectory.class);
            var at = said == null ? null : said.getString(ExifDirectoryBase.TAG_DATETIME_ORIGINAL);
            if (said == null || at == null) {
                return null;
            }
            var offset = said.getString(ExifDirectoryBase.TAG_TIME_ZONE_ORIGINAL);
            var taken = LocalDateTime.parse(at.strip(), FORMAT);
            if (taken.getYear() < FIRST_YEAR || taken.getYear() > LAST_YEAR) {
                return null; // no camera's
            }
            return new TakenAt(taken, offset == null ? null : ZoneOffset.of(offset.strip()));
        } catch (ImageProcessingException | EOFException | DateTimeException e) {
            return null;
        }
    }
}
