package org.quarterlight.photo;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Random;
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

    private @Nullable TakenAt of(byte[] photo) throws IOException {
        return TakenAt.of(Files.write(folder.resolve("photo.jpg"), photo));
    }
}
