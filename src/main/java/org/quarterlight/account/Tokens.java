package org.quarterlight.account;

import jakarta.validation.Valid;
import java.nio.ByteBuffer;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.Base64;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Memberships;
import org.quarterlight.web.Secrets;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.validation.annotation.Validated;

/**
 * Keys for programs. A key acts for its maker in one organisation, with the roles chosen when it was made as far as the
 * maker still has them. It carries the organisation in itself, signed, so that the row is looked for as that organisation;
 * the database keeps only a digest.
 */
@Service
@Validated
public class Tokens {
    private static final String PREFIX = "ql_";
    private static final int RANDOM_BYTES = 24;
    private static final int SIGNED_BYTES = 32 + RANDOM_BYTES;
    private static final int SIGNATURE_BYTES = 16;
    private static final int LONGEST_DAYS = 366;
    private static final int USUAL_DAYS = 90;
    private static final Duration USE_NOTED_EVERY = Duration.ofMinutes(5);
    private static final ListQuery.Order NEWEST_FIRST = ListQuery.Order.descending(
            "newest", new ListQuery.Key("t.created_at", "timestamptz"), new ListQuery.Key("t.id", "uuid"));

    private final JdbcClient jdbc;
    private final Memberships memberships;
    private final Secrets secrets;
    private final History history;
    private final Clock clock;
    private final TransactionTemplate transaction;
    private final SecureRandom random = new SecureRandom();

    Tokens(
            JdbcClient jdbc,
            Memberships memberships,
            Secrets secrets,
            History history,
            Clock clock,
            PlatformTransactionManager transactions) {
        this.transaction = new TransactionTemplate(transactions);
        this.jdbc = jdbc;
        this.memberships = memberships;
        this.secrets = secrets;
        this.history = history;
        this.clock = clock;
    }

    private record Kept(
            UUID person,
            Set<Role> roles,
            byte[] digest,
            Instant expiresAt,
            @Nullable Instant lastUsedAt) {}

    /** Makes a key and tells its secret, this once. */
    @Transactional
    @PreAuthorize("isAuthenticated() and !hasRole('CAB_CODE')")
    public NewToken create(@Valid CreateToken command) {
        return made(command, false);
    }

    /** Makes a key that opens the calendar of inspections and nothing else, for a year, and tells its secret, this once. */
    @Transactional
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public NewToken createForCalendar(String name) {
        return made(new CreateToken(name, LONGEST_DAYS, null), true);
    }

    private NewToken made(CreateToken command, boolean forCalendar) {
        var acting = Acting.require();
        var person = acting.person();
        // What opens the calendar alone may be made by a key, with which it ends.
        var mayBeMade = acting.token() == null || acting.is(Role.ADMINISTRATOR) || forCalendar;
        if (person == null || !mayBeMade) {
            throw new Invalid("name", "A key is made by a person who signed in");
        }
        var roles = command.roles() == null || command.roles().isEmpty() ? acting.roles() : command.roles();
        if (!acting.roles().containsAll(roles)) {
            throw new Invalid("roles", "A key can have no role that its maker has not");
        }
        var days = command.expiresInDays() == null ? USUAL_DAYS : command.expiresInDays();
        if (days < 1 || days > LONGEST_DAYS) {
            throw new Invalid("expiresInDays", "A key lives 1 to " + LONGEST_DAYS + " days");
        }
        var now = clock.instant();
        var id = Ids.next(now);
        var signed = ByteBuffer.allocate(SIGNED_BYTES);
        put(signed, Tenants.require().value());
        put(signed, id);
        var secret = new byte[RANDOM_BYTES];
        random.nextBytes(secret);
        signed.put(secret);
        var whole = ByteBuffer.allocate(SIGNED_BYTES + SIGNATURE_BYTES)
                .put(signed.array())
                .put(secrets.sign("token", signed.array()))
                .array();
        var wanted = now.plus(Duration.ofDays(days));
        // A key outlives the one that it was made with in no way.
        var expires = endOf(acting.token()).filter(wanted::isAfter).orElse(wanted);
        jdbc.sql("""
            insert into token (tenant_id, id, person_id, name, roles, digest, created_at, expires_at, made_with, for_calendar)
            values (:tenant, :id, :person, :name, :roles, :digest, :now, :expires, :madeWith, :forCalendar)\
            """)
                .param("madeWith", acting.token())
                .param("forCalendar", forCalendar)
                .param("tenant", Tenants.require().value())
                .param("id", id)
                .param("person", person)
                .param("name", command.name().trim())
                .param("roles", roles.stream().map(Role::name).sorted().toArray(String[]::new))
                .param("digest", digest(whole))
                .param("now", now.atOffset(ZoneOffset.UTC))
                .param("expires", expires.atOffset(ZoneOffset.UTC))
                .update();
        history.add("made", "key", id, command.name().trim());
        return new NewToken(
                id,
                command.name().trim(),
                roles,
                now,
                expires,
                PREFIX + Base64.getUrlEncoder().withoutPadding().encodeToString(whole));
    }

    private Optional<Instant> endOf(@Nullable UUID key) {
        return jdbc.sql("select expires_at from token where tenant_id = :organisation and id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", key)
                .query(OffsetDateTime.class)
                .optional()
                .map(OffsetDateTime::toInstant);
    }

    /** An administrator sees all keys of the organisation, others their own. */
    @Transactional(readOnly = true)
    @PreAuthorize("isAuthenticated() and !hasRole('CAB_CODE')")
    public Slice<TokenView> list(SliceRequest wanted) {
        var acting = Acting.require();
        return new ListQuery(
                        "t.id, t.name, t.roles, t.for_calendar, p.name as person, t.created_at, t.expires_at, t.last_used_at,"
                                + " case when t.revoked_at is null and p.password_changed_at > t.created_at"
                                + " then p.password_changed_at else t.revoked_at end as revoked_at",
                        "token t join person p on p.id = t.person_id")
                .where(
                        "t.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .whereGiven("t.person_id = :person", "person", acting.is(Role.ADMINISTRATOR) ? null : acting.person())
                .slice(jdbc, NEWEST_FIRST, wanted, Tokens::view);
    }

    /** Ends a key at once, and those made with it. Ending it twice changes nothing. */
    @Transactional
    @PreAuthorize("isAuthenticated() and !hasRole('CAB_CODE')")
    public void revoke(UUID id) {
        var acting = Acting.require();
        var found = jdbc.sql("""
            with recursive ended as (
                select id from token
                where tenant_id = :organisation and id = :id and (person_id = :person or :administrator)
                union
                select t.id from token t join ended e on t.made_with = e.id where t.tenant_id = :organisation)
            update token set revoked_at = coalesce(revoked_at, :now)
            where tenant_id = :organisation and id in (select id from ended)\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .param("person", acting.person())
                .param("administrator", acting.is(Role.ADMINISTRATOR))
                .update();
        if (found == 0) {
            throw new TokenNotFound(id);
        }
        history.add("revoked", "key", id, "");
    }

    /** Who acts with this key; empty where it is not one, was revoked, has expired, or its maker has left. */
    public Optional<Acting> acting(String token) {
        return acting(token, false);
    }

    /** The same of a key that opens the calendar alone; a key of one sort never opens what is for the other. */
    public Optional<Acting> actingForCalendar(String token) {
        return acting(token, true);
    }

    private Optional<Acting> acting(String token, boolean forCalendar) {
        if (!token.startsWith(PREFIX)) {
            return Optional.empty();
        }
        byte[] whole;
        try {
            whole = Base64.getUrlDecoder().decode(token.substring(PREFIX.length()));
        } catch (IllegalArgumentException e) {
            return Optional.empty();
        }
        if (whole.length != SIGNED_BYTES + SIGNATURE_BYTES) {
            return Optional.empty();
        }
        var signed = Arrays.copyOf(whole, SIGNED_BYTES);
        if (!MessageDigest.isEqual(
                secrets.sign("token", signed), Arrays.copyOfRange(whole, SIGNED_BYTES, whole.length))) {
            return Optional.empty();
        }
        var buffer = ByteBuffer.wrap(signed);
        var tenant = new TenantId(new UUID(buffer.getLong(), buffer.getLong()));
        var id = new UUID(buffer.getLong(), buffer.getLong());
        return Tenants.callAs(
                tenant, () -> transaction.execute(status -> live(tenant, id, digest(whole), forCalendar)));
    }

    private Optional<Acting> live(TenantId tenant, UUID id, byte[] digest, boolean forCalendar) {
        var now = clock.instant();
        var kept = jdbc.sql("""
            select t.person_id, t.roles, t.digest, t.expires_at, t.last_used_at
            from token t join person p on p.id = t.person_id
            where t.tenant_id = :organisation and t.id = :id and t.revoked_at is null
                and t.for_calendar = :forCalendar
                and (p.password_changed_at is null or t.created_at >= p.password_changed_at)\
            """)
                .param("organisation", tenant.value())
                .param("id", id)
                .param("forCalendar", forCalendar)
                .query((row, number) -> new Kept(
                        row.getObject("person_id", UUID.class),
                        MembershipRows.roles(row),
                        row.getBytes("digest"),
                        row.getObject("expires_at", OffsetDateTime.class).toInstant(),
                        instant(row, "last_used_at")))
                .optional()
                .filter(found -> MessageDigest.isEqual(found.digest(), digest))
                .filter(found -> found.expiresAt().isAfter(now));
        kept.filter(found -> found.lastUsedAt() == null
                        || found.lastUsedAt().plus(USE_NOTED_EVERY).isBefore(now))
                .ifPresent(found -> jdbc.sql(
                                "update token set last_used_at = :now where tenant_id = :organisation and id = :id")
                        .param("now", now.atOffset(ZoneOffset.UTC))
                        .param("organisation", tenant.value())
                        .param("id", id)
                        .update());
        return kept.flatMap(found -> memberships.acting(found.person(), tenant).map(acting -> {
            var roles = EnumSet.noneOf(Role.class);
            roles.addAll(acting.roles());
            roles.retainAll(found.roles());
            return new Acting(
                    tenant,
                    acting.kind(),
                    acting.organisationName(),
                    acting.pattern(),
                    acting.person(),
                    acting.name(),
                    roles,
                    id);
        }));
    }

    private static TokenView view(ResultSet row, int number) throws SQLException {
        return new TokenView(
                row.getObject("id", UUID.class),
                row.getString("name"),
                MembershipRows.roles(row),
                row.getString("person"),
                row.getObject("created_at", OffsetDateTime.class).toInstant(),
                row.getObject("expires_at", OffsetDateTime.class).toInstant(),
                instant(row, "last_used_at"),
                instant(row, "revoked_at"),
                row.getBoolean("for_calendar"));
    }

    private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
        var value = row.getObject(column, OffsetDateTime.class);
        return value == null ? null : value.toInstant();
    }

    private static void put(ByteBuffer buffer, UUID id) {
        buffer.putLong(id.getMostSignificantBits()).putLong(id.getLeastSignificantBits());
    }

    private static byte[] digest(byte[] token) {
        try {
            return MessageDigest.getInstance("SHA-256").digest(token);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }
}
