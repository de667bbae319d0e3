package org.quarterlight.damage;

import java.io.InputStream;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.photo.PhotoFile;
import org.quarterlight.photo.PhotoReferences;
import org.quarterlight.photo.PhotoSize;
import org.quarterlight.photo.Photos;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.springframework.core.io.Resource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionTemplate;

/** The photos of damages: seen by whoever may see the damage. */
@Service
public class DamagePhotos implements PhotoReferences {
    private static final int MOST = 20;
    private static final String FULL = "A damage has up to " + MOST + " photos";

    private final DamageReporting reporting;
    private final Photos photos;
    private final History history;
    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final Clock clock;

    DamagePhotos(
            DamageReporting reporting,
            Photos photos,
            History history,
            JdbcClient jdbc,
            PlatformTransactionManager transactions,
            Clock clock) {
        this.reporting = reporting;
        this.photos = photos;
        this.history = history;
        this.jdbc = jdbc;
        this.transaction = new TransactionTemplate(transactions);
        this.clock = clock;
    }

    /**
     * Adds a photo, JPEG or PNG; the same one twice is there once. The picture is worked on between two transactions, so
     * that it holds no connection; what may have changed meanwhile is asked again under a lock.
     */
    @PreAuthorize("hasAnyRole('DRIVER', 'MANAGER', 'DISPATCHER', 'TECHNICIAN', 'CAB_CODE')")
    public DamagePhoto add(UUID damage, InputStream content) {
        transaction.executeWithoutResult(status -> checkRoom(damage));
        var file = photos.keep(Tenants.require(), content, "photo");
        return transaction.execute(status -> {
            lock(damage);
            checkRoom(damage);
            insert(damage, file);
            return list(damage).stream()
                    .filter(photo -> photo.sha256().equals(file.sha256()))
                    .findFirst()
                    .orElseThrow();
        });
    }

    private void checkRoom(UUID damage) {
        if (room(damage) < 1) {
            throw new Invalid("photo", FULL);
        }
    }

    /** One photo of a damage at a time: two that both saw room for one would be one too many. */
    private void lock(UUID damage) {
        Locks.row(jdbc, "damage", damage);
    }

    /**
     * Reads a photo that comes with a report, before the report locks anything and whatever becomes of it. It belongs to
     * no damage until it is added to one.
     */
    @PreAuthorize("hasAnyRole('DRIVER', 'MANAGER', 'DISPATCHER', 'TECHNICIAN', 'CAB_CODE')")
    public PhotoFile keep(InputStream content) {
        return photos.keep(Tenants.require(), content, "photo");
    }

    /** Adds photos that were kept; answers what is wrong where not all of them have room, which stops no report. */
    @Transactional
    @PreAuthorize("hasAnyRole('DRIVER', 'MANAGER', 'DISPATCHER', 'TECHNICIAN', 'CAB_CODE')")
    public Optional<String> addKept(UUID damage, List<PhotoFile> kept) {
        lock(damage);
        var room = Math.max(0, room(damage));
        kept.stream().limit(room).forEach(file -> insert(damage, file));
        return kept.size() > room ? Optional.of(FULL) : Optional.empty();
    }

    private int room(UUID damage) {
        var view = reporting.damage(damage);
        if (view.closedAs() != null) {
            throw new DamageClosed(view.number());
        }
        return MOST - list(damage).size();
    }

    private void insert(UUID damage, PhotoFile file) {
        var now = clock.instant();
        jdbc.sql("""
            insert into damage_photo (tenant_id, id, damage_id, sha256, media_type, bytes, width, height, added_at, added_by)
            values (:organisation, :id, :damage, :sha256, :type, :bytes, :width, :height, :now, :by)
            on conflict (tenant_id, damage_id, sha256) do nothing\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", Ids.next(now))
                .param("damage", damage)
                .param("sha256", file.sha256())
                .param("type", file.mediaType())
                .param("bytes", file.bytes())
                .param("width", file.width())
                .param("height", file.height())
                .param("now", now.atOffset(ZoneOffset.UTC))
                .param("by", Acting.require().name())
                .update();
        history.add("added a photo to", "damage", damage, "");
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DRIVER', 'MANAGER', 'DISPATCHER', 'TECHNICIAN', 'CAB_CODE')")
    public List<DamagePhoto> list(UUID damage) {
        reporting.damage(damage);
        return jdbc.sql("""
            select * from damage_photo where tenant_id = :organisation and damage_id = :damage
            order by added_at, id\
            """)
                .param("organisation", Tenants.require().value())
                .param("damage", damage)
                .query(DamagePhotos::photo)
                .list();
    }

    /** The picture, a JPEG. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DRIVER', 'MANAGER', 'DISPATCHER', 'TECHNICIAN', 'CAB_CODE')")
    public Resource shown(UUID id, PhotoSize size) {
        var photo = jdbc.sql("select * from damage_photo where tenant_id = :organisation and id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query(DamagePhotos::photo)
                .optional()
                .orElseThrow(() -> new PhotoNotFound(id));
        reporting.damage(photo.damage());
        return photos.shown(Tenants.require(), photo.sha256(), size);
    }

    @Override
    public Set<String> inUse(TenantId owner, Collection<String> sha256) {
        return PhotoReferences.in("damage_photo", jdbc, owner, sha256);
    }

    private static DamagePhoto photo(ResultSet row, int number) throws SQLException {
        return new DamagePhoto(
                row.getObject("id", UUID.class),
                row.getObject("damage_id", UUID.class),
                row.getString("sha256"),
                row.getString("media_type"),
                row.getInt("width"),
                row.getInt("height"),
                row.getObject("added_at", OffsetDateTime.class).toInstant(),
                row.getString("added_by"));
    }
}
