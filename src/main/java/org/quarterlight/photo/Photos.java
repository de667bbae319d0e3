package org.quarterlight.photo;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.FileTime;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.regex.Pattern;
import javax.imageio.ImageIO;
import net.coobird.thumbnailator.Thumbnails;
import org.quarterlight.kernel.Busy;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.core.io.FileSystemResource;
import org.springframework.core.io.Resource;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionSynchronizationManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Keeps photos below the data folder, by organisation and content: the bytes as they came, for proof, and two pictures
 * made from them to show, without place, time and camera. A photo has no row of its own; the record that owns it keeps
 * its {@link PhotoFile}, and lets people see it. Files are written before the row, and swept a day later where none came.
 */
@Service
public class Photos {
    private static final Logger LOG = LoggerFactory.getLogger(Photos.class);
    private static final long MOST_BYTES = 40L << 20;
    private static final long MOST_PIXELS = 50_000_000;
    /** Whoever waits inside a transaction keeps a connection from others. */
    private static final Duration PATIENCE = Duration.ofSeconds(20);

    private static final Duration PATIENCE_IN_A_TRANSACTION = Duration.ofSeconds(2);
    private static final float QUALITY = 0.85f;
    private static final Duration ORPHANS_KEPT = Duration.ofDays(1);
    /** A statement takes at most 65 535 parameters. */
    private static final int ASKED_AT_ONCE = 5_000;

    private static final Pattern NAME = Pattern.compile("[0-9a-f]{64}");

    static {
        // Large pictures are read in the size they are shown in, instead of whole.
        System.setProperty("thumbnailator.conserveMemoryWorkaround", "true");
        ImageIO.setUseCache(false);
    }

    private final Path root;
    private final ObjectProvider<PhotoReferences> references;
    private final TransactionTemplate transaction;
    private final Clock clock;
    /** A decoded photo is large; more than two at once are not worth the memory. */
    private final Semaphore drawing = new Semaphore(2, true);

    Photos(
            @Value("${quarterlight.data}") Path data,
            ObjectProvider<PhotoReferences> references,
            PlatformTransactionManager transactions,
            Clock clock) {
        this.root = data.resolve("photos");
        this.references = references;
        this.transaction = new TransactionTemplate(transactions);
        this.clock = clock;
    }

    /**
     * Takes a photo into the store. The same photo twice is kept once. Takes a second or more: called before the
     * transaction that writes the row, not in it.
     *
     * @param field where a problem is told, as the form or command names it
     */
    public PhotoFile keep(TenantId owner, InputStream content, String field) {
        try {
            var folder = Files.createDirectories(root.resolve(owner.toString()));
            var arriving = Files.createTempFile(folder, "arriving-", ".tmp");
            try {
                var sha256 = copy(content, arriving, field);
                var mediaType = mediaType(arriving, field);
                var original = file(owner, sha256, "original");
                var large = file(owner, sha256, "large.jpg");
                Files.createDirectories(original.getParent());
                // Asked for itself: a stop between the two pictures leaves the first.
                var small = file(owner, sha256, "small.jpg");
                if (!kept(large) || !kept(small)) {
                    drawMissing(arriving, large, small, field);
                }
                var size = Files.size(arriving);
                var taken = TakenAt.of(arriving);
                Files.move(arriving, original, StandardCopyOption.REPLACE_EXISTING, StandardCopyOption.ATOMIC_MOVE);
                var shown = dimensions(large, field);
                return new PhotoFile(
                        sha256, mediaType, size, shown.width(), shown.height(), picture(small, field), taken);
            } finally {
                Files.deleteIfExists(arriving);
            }
        } catch (IOException e) {
            throw new IllegalStateException("The photo could not be kept", e);
        }
    }

    /** A JPEG to show. Whoever asks has checked that the person may see the record that owns it. */
    public Resource shown(TenantId owner, String sha256, PhotoSize size) {
        return new FileSystemResource(file(owner, sha256, size.name().toLowerCase(Locale.ROOT) + ".jpg"));
    }

    /** Removes what no record refers to, such as the photo of a report that failed. */
    @Scheduled(cron = "0 17 3 * * *")
    public void sweep() {
        try (var organisations = Files.list(root)) {
            for (var folder : organisations.filter(Files::isDirectory).toList()) {
                try {
                    sweep(new TenantId(UUID.fromString(folder.getFileName().toString())), folder);
                } catch (IOException | RuntimeException e) {
                    LOG.warn("The photos in {} could not be swept", folder, e); // those of the others can
                }
            }
        } catch (NoSuchFileException e) {
            // nobody has sent a photo yet
        } catch (IOException e) {
            LOG.warn("Photos could not be swept: {}", e.getMessage());
        }
    }

    private void sweep(TenantId owner, Path folder) throws IOException {
        var oldest = clock.instant().minus(ORPHANS_KEPT);
        try (var files = Files.walk(folder)) {
            var old = new HashMap<String, List<Path>>();
            for (var each = files.filter(Files::isRegularFile).iterator(); each.hasNext(); ) {
                var file = each.next();
                if (isOld(file, oldest)) {
                    old.computeIfAbsent(name(file), absent -> new ArrayList<>()).add(file);
                    if (old.size() >= ASKED_AT_ONCE) {
                        sweep(owner, old, oldest);
                        old.clear();
                    }
                }
            }
            sweep(owner, old, oldest);
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
    }

    private void sweep(TenantId owner, Map<String, List<Path>> old, Instant oldest) throws IOException {
        if (old.isEmpty()) {
            return;
        }
        var kept = Tenants.callAs(owner, () -> transaction.execute(status -> inUse(owner, old.keySet())));
        for (var each : old.entrySet()) {
            if (!kept.contains(each.getKey())) {
                for (var file : each.getValue()) {
                    // Looked at once more, for the same photo may have arrived since.
                    if (isOld(file, oldest)) {
                        Files.deleteIfExists(file);
                    }
                }
            }
        }
    }

    private static boolean isOld(Path file, Instant oldest) {
        return lastModified(file).toInstant().isBefore(oldest);
    }

    private Set<String> inUse(TenantId owner, Set<String> names) {
        var kept = new HashSet<String>();
        references.stream().forEach(reference -> kept.addAll(reference.inUse(owner, names)));
        return kept;
    }

    /** Whether the file is there; young again from now on, or the sweep might take it before the row that needs it. */
    private boolean kept(Path file) throws IOException {
        try {
            Files.setLastModifiedTime(file, FileTime.from(clock.instant()));
            return true;
        } catch (NoSuchFileException e) {
            return false;
        }
    }

    private static FileTime lastModified(Path file) {
        try {
            return Files.getLastModifiedTime(file);
        } catch (IOException e) {
            return FileTime.fromMillis(Long.MAX_VALUE);
        }
    }

    private static String name(Path file) {
        var name = file.getFileName().toString();
        return name.substring(0, Math.min(64, name.length()));
    }

    private Path file(TenantId owner, String sha256, String kind) {
        if (!NAME.matcher(sha256).matches()) {
            throw new IllegalArgumentException("not the name of a photo");
        }
        return root.resolve(owner.toString()).resolve(sha256.substring(0, 2)).resolve(sha256 + "." + kind);
    }

    private static String copy(InputStream content, Path target, String field) throws IOException {
        var digest = sha256();
        try (var out = Files.newOutputStream(target);
                var in = new DigestInputStream(content, digest)) {
            var buffer = new byte[1 << 16];
            long total = 0;
            int read;
            while ((read = in.read(buffer)) >= 0) {
                total += read;
                if (total > MOST_BYTES) {
                    throw new Invalid(field, "The photo is larger than 40 MB");
                }
                out.write(buffer, 0, read);
            }
            if (total == 0) {
                throw new Invalid(field, "The photo is empty");
            }
        }
        return HexFormat.of().formatHex(digest.digest());
    }

    /** By what the bytes are, whatever the sender calls them. */
    private static String mediaType(Path file, String field) throws IOException {
        var head = new byte[12];
        try (var in = Files.newInputStream(file)) {
            in.readNBytes(head, 0, head.length);
        }
        if (head[0] == (byte) 0xFF && head[1] == (byte) 0xD8 && head[2] == (byte) 0xFF) {
            return "image/jpeg";
        }
        if (head[0] == (byte) 0x89 && head[1] == 'P' && head[2] == 'N' && head[3] == 'G') {
            return "image/png";
        }
        if (head[4] == 'f' && head[5] == 't' && head[6] == 'y' && head[7] == 'p') {
            throw new Invalid(field, "This is a HEIC photo. Save or send it as JPEG.");
        }
        throw new Invalid(field, "This is not a photo we can read. Send JPEG or PNG.");
    }

    /** Drawn from the same points it is the same, whatever else the file that came holds. */
    private static String picture(Path small, String field) throws IOException {
        var image = ImageIO.read(small.toFile());
        if (image == null) {
            throw new Invalid(field, "This photo cannot be read");
        }
        var points = image.getRGB(0, 0, image.getWidth(), image.getHeight(), null, 0, image.getWidth());
        var bytes = ByteBuffer.allocate(Integer.BYTES * (points.length + 1));
        bytes.putInt(image.getWidth()).asIntBuffer().put(points);
        return HexFormat.of().formatHex(sha256().digest(bytes.array()));
    }

    private record Dimensions(int width, int height) {}

    private static Dimensions dimensions(Path file, String field) throws IOException {
        try (var in = ImageIO.createImageInputStream(file.toFile())) {
            var readers = ImageIO.getImageReaders(in);
            if (!readers.hasNext()) {
                throw new Invalid(field, "This photo cannot be read");
            }
            var reader = readers.next();
            try {
                reader.setInput(in, true, true);
                return new Dimensions(reader.getWidth(0), reader.getHeight(0));
            } finally {
                reader.dispose();
            }
        }
    }

    /** As many as may be drawn at once are; others wait a while for their turn, then are told to come again. */
    private void drawMissing(Path arriving, Path large, Path small, String field) throws IOException {
        var patience =
                TransactionSynchronizationManager.isActualTransactionActive() ? PATIENCE_IN_A_TRANSACTION : PATIENCE;
        try {
            if (!drawing.tryAcquire(patience.toMillis(), TimeUnit.MILLISECONDS)) {
                throw new Busy("Many photos are arriving. Send this one again in a moment.", Duration.ofSeconds(10));
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new Busy("The service is stopping. Send the photo again in a moment.", Duration.ofSeconds(10));
        }
        try {
            if (!kept(large)) {
                draw(arriving, large, PhotoSize.LARGE, field);
            }
            if (!kept(small)) {
                draw(large, small, PhotoSize.SMALL, field);
            }
        } finally {
            drawing.release();
        }
    }

    /** Decoded and encoded anew: what the file told besides the picture is gone, and so is what hid in it. */
    private static void draw(Path source, Path target, PhotoSize size, String field) throws IOException {
        Dimensions found;
        try {
            found = dimensions(source, field);
        } catch (IOException | IllegalArgumentException | IndexOutOfBoundsException e) {
            throw new Invalid(field, "This photo is damaged and cannot be read");
        }
        if ((long) found.width() * found.height() > MOST_PIXELS) {
            throw new Invalid(field, "The photo has more than 50 million points");
        }
        var longest = Math.min(size.longestSide(), Math.max(found.width(), found.height()));
        var drawn = Files.createTempFile(target.getParent(), "drawn-", ".jpg");
        try {
            Thumbnails.of(source.toFile())
                    .size(longest, longest)
                    .imageType(BufferedImage.TYPE_INT_RGB)
                    .outputFormat("jpg")
                    .outputQuality(QUALITY)
                    .toFile(drawn.toFile());
            Files.move(drawn, target, StandardCopyOption.REPLACE_EXISTING, StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException | IllegalArgumentException | IndexOutOfBoundsException | NegativeArraySizeException e) {
            throw new Invalid(field, "This photo is damaged and cannot be read");
        } finally {
            Files.deleteIfExists(drawn);
        }
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }
}
