package org.quarterlight.photo;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Random;
import java.util.zip.CRC32;
import java.util.zip.Deflater;
import javax.imageio.ImageIO;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.quarterlight.TestPhotos;

/** What a camera says of when it took a photo. */
class TakenAtTests {
    private static final LocalDateTime AT = LocalDateTime.of(2026, 7, 1, 9, 40, 5);

    @TempDir
    private Path folder;

    @Test
    void readsTheTimeAndWhereItIsKept() throws IOException {
        var taken = requireNonNull(of(TestPhotos.taken(AT, "+02:00")));
        assertThat(taken).isEqualTo(new TakenAt(AT, ZoneOffset.ofHours(2)));
        assertThat(taken.in(ZoneId.of("Europe/London"))).isEqualTo("2026-07-01T07:40:05Z");
        assertThat(new TakenAt(AT, null).in(ZoneId.of("Europe/London"))).isEqualTo("2026-07-01T08:40:05Z");
    }

    @Test
    void saysNothingWhereTheCameraSaysNothingThatCanBeRead() throws IOException {
        assertThat(of(TestPhotos.taken(AT, "noon ?"))).isNull();
        assertThat(of(TestPhotos.taken(AT.withYear(1904), "+00:00"))).isNull();
        assertThat(of(new byte[] {(byte) 0xFF, (byte) 0xD8, 0, 0, 1})).isNull();
    }

    @Test
    void survivesWhateverAFileHolds() throws IOException {
        var random = new Random(20261201);
        var whole = TestPhotos.taken(AT, "+02:00");
        for (var i = 0; i < 2_000; i++) {
            var broken = whole.clone();
            for (var changes = 1 + random.nextInt(8); changes > 0; changes--) {
                broken[2 + random.nextInt(220)] = (byte) random.nextInt(256);
            }
            assertThatCode(() -> of(broken)).as("change %d", i).doesNotThrowAnyException();
        }
    }

    @Test
    void unpacksNothingOfWhatAFileHoldsBesides() throws IOException {
        var text = new ByteArrayOutputStream();
        text.write("a\0\0".getBytes(StandardCharsets.US_ASCII));
        var packer = new Deflater();
        var packed = new byte[1 << 20];
        text.write(packed, 0, pack(packer, packed));
        var length = pack(packer, packed);
        packer.end();
        // More than the tests' memory; what is flushed in full may be said again.
        for (var i = 0; i < 128; i++) {
            text.write(packed, 0, length);
        }
        var chunk = ByteBuffer.allocate(4 + text.size());
        chunk.put("zTXt".getBytes(StandardCharsets.US_ASCII)).put(text.toByteArray());
        var sum = new CRC32();
        sum.update(chunk.array());
        var png = new ByteArrayOutputStream();
        ImageIO.write(new BufferedImage(1, 1, BufferedImage.TYPE_INT_RGB), "png", png);
        var picture = png.toByteArray();
        var head = 8 + 25; // signature and header
        var file = ByteBuffer.allocate(picture.length + 8 + chunk.capacity());
        file.put(picture, 0, head).putInt(text.size()).put(chunk.array()).putInt((int) sum.getValue());
        assertThat(of(file.put(picture, head, picture.length - head).array())).isNull();
    }

    /** 16 MB of nothing. */
    private static int pack(Deflater packer, byte[] into) {
        packer.setInput(new byte[1 << 24]);
        return packer.deflate(into, 0, into.length, Deflater.FULL_FLUSH);
    }

    private @Nullable TakenAt of(byte[] photo) throws IOException {
        return TakenAt.of(Files.write(folder.resolve("photo.jpg"), photo));
    }
}
