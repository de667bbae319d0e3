package org.quarterlight.fleet;

import java.io.InputStream;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.photo.PhotoFile;
import org.quarterlight.photo.PhotoReferences;
import org.quarterlight.photo.PhotoSize;
import org.quarterlight.photo.Photos;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.springframework.core.io.Resource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionTemplate;

/** Pictures that glasses are traced over. One that no version of a pattern was traced over goes after a while. */
@Service
public class PatternPictures implements PhotoReferences {
    private static final Duration KEPT_UNUSED = Duration.ofDays(7);
    private static final int MOST_UNUSED = 100;

    private final Photos photos;
    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final Clock clock;

    PatternPictures(Photos photos, JdbcClient jdbc, PlatformTransactionManager transactions, Clock clock) {
        this.photos = photos;
        this.jdbc = jdbc;
        this.transaction = new TransactionTemplate(transactions);
        this.clock = clock;
    }

    /** Takes a picture, JPEG or PNG, which is worked on before the transaction that writes its row. */
    @PreAuthorize("hasRole('MANAGER')")
    public PatternPicture add(InputStream content) {
        var file = photos.keep(Tenants.require(), content, "photo");
        return transaction.execute(status -> {
            forgetUnused();
            if (unused() >= MOST_UNUSED) {
                throw new Invalid(
                        "photo", "There are " + MOST_UNUSED + " pictures here that no glass was traced over yet");
            }
            return insert(file);
        });
    }

    private PatternPicture insert(PhotoFile file) {
        var now = clock.instant();
        var id = Ids.next(now);
        jdbc.sql("""
            insert into pattern_picture (tenant_id, id, sha256, media_type, bytes, width, height, added_at, added_by)
            values (:organisation, :id, :sha256, :type, :bytes, :width, :height, :now, :by)\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .param("sha256", file.sha256())
                .param("type", file.mediaType())
                .param("bytes", file.bytes())
                .param("width", file.width())
                .param("height", file.height())
                .param("now", now.atOffset(ZoneOffset.UTC))
                .param("by", Acting.require().name())
                .update();
        return picture(id);
    }

    private void forgetUnused() {
        jdbc.sql("""
            delete from pattern_picture p
            where p.tenant_id = :organisation and p.added_at < :old and not exists (
                select from glass_pattern_version v where v.tenant_id = p.tenant_id and v.traced_over = p.id)\
            """)
                .param("organisation", Tenants.require().value())
                .param("old", clock.instant().minus(KEPT_UNUSED).atOffset(ZoneOffset.UTC))
                .update();
    }

    private int unused() {
        return jdbc.sql("""
            select count(*) from pattern_picture p
            where p.tenant_id = :organisation and not exists (
                select from glass_pattern_version v where v.tenant_id = p.tenant_id and v.traced_over = p.id)\
            """)
                .param("organisation", Tenants.require().value())
                .query(Integer.class)
                .single();
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public PatternPicture read(UUID id) {
        return picture(id);
    }

    private PatternPicture picture(UUID id) {
        return find(id).orElseThrow(() -> new PatternPictureNotFound(id));
    }

    Optional<PatternPicture> find(UUID id) {
        return jdbc.sql("select * from pattern_picture where tenant_id = :organisation and id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query(PatternPictures::view)
                .optional();
    }

    /** The picture, a JPEG. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public Resource shown(UUID id, PhotoSize size) {
        var sha256 = jdbc.sql("select sha256 from pattern_picture where tenant_id = :organisation and id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query(String.class)
                .optional()
                .orElseThrow(() -> new PatternPictureNotFound(id));
        return photos.shown(Tenants.require(), sha256, size);
    }

    @Override
    public Set<String> inUse(TenantId owner, Collection<String> sha256) {
        return PhotoReferences.in("pattern_picture", jdbc, owner, sha256);
    }

    private static PatternPicture view(ResultSet row, int number) throws SQLException {
        return new PatternPicture(
                row.getObject("id", UUID.class),
                row.getInt("width"),
                row.getInt("height"),
                row.getObject("added_at", OffsetDateTime.class).toInstant(),
                row.getString("added_by"));
    }
}
