package org.quarterlight.photo;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HexFormat;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.quarterlight.tenancy.TenantId;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.TransactionStatus;
import org.springframework.transaction.support.SimpleTransactionStatus;

/** What the store keeps, draws and sweeps, on a folder of its own. */
class PhotosTests {
    private static final Instant NOW = Instant.parse("2026-05-04T08:00:00Z");
    private static final Instant LONG_AGO = NOW.minus(Duration.ofDays(3));

    @TempDir
    private Path data;

    private final TenantId owner = new TenantId(UUID.randomUUID());

    @Test
    void drawsTheSmallPictureThatAStopLeftOut() throws IOException {
        var photos = photos((tenant, names) -> Set.of());
        var sha256 = photos.keep(owner, picture(), "photo").sha256();
        var small = photos.shown(owner, sha256, PhotoSize.SMALL).getFile().toPath();
        Files.delete(small);

        photos.keep(owner, picture(), "photo");

        assertThat(small).isNotEmptyFile();
    }

    @Test
    void doesNotSweepWhatHasJustArrivedAgain() throws IOException {
        var photos = photos((tenant, names) -> Set.of());
        var sha256 = photos.keep(owner, picture(), "photo").sha256();
        age();

        photos.keep(owner, picture(), "photo");
        photos.sweep();

        assertThat(photos.shown(owner, sha256, PhotoSize.LARGE).exists()).isTrue();
        assertThat(photos.shown(owner, sha256, PhotoSize.SMALL).exists()).isTrue();
        assertThat(files()).hasSize(3);
    }

    @Test
    void sweepsWhatNoRecordRefersTo() throws IOException {
        var kept = new ArrayList<String>();
        var photos = photos((tenant, names) -> Set.copyOf(kept));
        kept.add(photos.keep(owner, picture(), "photo").sha256());
        var orphan = photos.keep(owner, picture(4), "photo").sha256();
        age();

        photos.sweep();

        assertThat(files()).hasSize(3).noneMatch(file -> file.toString().contains(orphan));
    }

    /** PostgreSQL's protocol counts the parameters of a statement in 16 bits. */
    @Test
    void asksForFewEnoughAtOnceForAStatement() throws IOException {
        var asked = new ArrayList<Integer>();
        var folder = Files.createDirectories(data.resolve("photos").resolve(owner.toString()));
        for (int i = 0; i < 11_000; i++) {
            var file = folder.resolve(HexFormat.of().toHexDigits(i).repeat(8) + ".original");
            Files.setLastModifiedTime(Files.createFile(file), FileTime.from(LONG_AGO));
        }

        photos((tenant, names) -> {
                    asked.add(names.size());
                    return Set.of();
                })
                .sweep();

        assertThat(asked).allMatch(count -> count <= 10_000);
        assertThat(asked.stream().mapToInt(Integer::intValue).sum()).isEqualTo(11_000);
        assertThat(files()).isEmpty();
    }

    @Test
    void aFailureForOneOrganisationLeavesTheOthersSwept() throws IOException {
        var other = new TenantId(UUID.randomUUID());
        var photos = photos((tenant, names) -> {
            if (tenant.equals(owner)) {
                throw new IllegalStateException("the database said no");
            }
            return Set.of();
        });
        photos.keep(owner, picture(), "photo");
        photos.keep(other, picture(), "photo");
        Files.createDirectories(data.resolve("photos").resolve("no organisation"));
        age();

        photos.sweep();

        assertThat(files()).hasSize(3).allMatch(file -> file.toString().contains(owner.toString()));
    }

    private interface References {
        Set<String> inUse(TenantId tenant, Collection<String> names);
    }

    private Photos photos(References references) {
        PhotoReferences reference = references::inUse;
        return new Photos(
                data,
                new ObjectProvider<>() {
                    @Override
                    public PhotoReferences getObject() {
                        return reference;
                    }

                    @Override
                    public Stream<PhotoReferences> stream() {
                        return Stream.of(reference);
                    }
                },
                new NoTransactions(),
                Clock.fixed(NOW, ZoneOffset.UTC));
    }

    private void age() throws IOException {
        for (var file : files()) {
            Files.setLastModifiedTime(file, FileTime.from(LONG_AGO));
        }
    }

    private List<Path> files() throws IOException {
        try (var all = Files.walk(data)) {
            return all.filter(Files::isRegularFile).toList();
        }
    }

    private static ByteArrayInputStream picture() {
        return picture(3);
    }

    private static ByteArrayInputStream picture(int width) {
        var out = new ByteArrayOutputStream();
        try {
            ImageIO.write(new BufferedImage(width * 100, 240, BufferedImage.TYPE_INT_RGB), "jpg", out);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return new ByteArrayInputStream(out.toByteArray());
    }

    private static final class NoTransactions implements PlatformTransactionManager {
        @Override
        public TransactionStatus getTransaction(@Nullable TransactionDefinition definition) {
            return new SimpleTransactionStatus();
        }

        @Override
        public void commit(TransactionStatus status) {}

        @Override
        public void rollback(TransactionStatus status) {}
    }
}
