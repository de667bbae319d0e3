package org.quarterlight.fleet;

import jakarta.servlet.http.HttpServletRequest;
import java.nio.ByteBuffer;
import java.security.MessageDigest;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.Base64;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Pattern;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.Allowance;
import org.quarterlight.web.RequestIdentity;
import org.quarterlight.web.Secrets;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Codes in the cab: whoever opens one may report damage of that one vehicle, without a login. A code carries its
 * organisation in itself, signed, so a guessed one is refused without asking the database. It may be revoked.
 */
@Service
public class CabCodes implements RequestIdentity {
    private static final Pattern PATH = Pattern.compile("/r/([A-Za-z0-9_-]{64})(/.*)?");
    private static final Pattern SCANNED = Pattern.compile("(?:^|/r/)([A-Za-z0-9_-]{64})(?:[/?#].*)?$");
    private static final int ID_BYTES = 32;
    private static final int SIGNATURE_BYTES = 16;
    /** More than a driver needs, and too few to fill anybody's list: by code, and by address for wrong codes too. */
    private static final int REQUESTS_FOR_A_CODE = 60;

    private static final int REQUESTS_FROM_AN_ADDRESS = 240;
    /** A request with photos is as much work as several without: ten reports of one code in the period. */
    private static final int COST_OF_PHOTOS = 6;

    private static final Duration PERIOD = Duration.ofMinutes(10);

    private final JdbcClient jdbc;
    private final Secrets secrets;
    private final History history;
    private final TransactionTemplate transaction;
    private final Clock clock;
    private final Allowance byCode = new Allowance(REQUESTS_FOR_A_CODE, PERIOD);
    private final Allowance byAddress = new Allowance(REQUESTS_FROM_AN_ADDRESS, PERIOD);

    CabCodes(JdbcClient jdbc, Secrets secrets, History history, PlatformTransactionManager transactions, Clock clock) {
        this.jdbc = jdbc;
        this.secrets = secrets;
        this.history = history;
        this.transaction = new TransactionTemplate(transactions);
        this.clock = clock;
    }

    private record Named(TenantId tenant, UUID id) {}

    private record Found(UUID vehicle, String registration, String organisation, int pattern) {}

    /** The vehicle's code in force; made where there is none. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public CabCodeView make(UUID vehicle) {
        var registration = jdbc.sql("""
            select registration from vehicle
            where tenant_id = :organisation and id = :vehicle and retired_at is null for update\
            """)
                .param("organisation", Tenants.require().value())
                .param("vehicle", vehicle)
                .query(String.class)
                .optional()
                .orElseThrow(() -> new VehicleNotFound(vehicle));
        var present = find(vehicle);
        if (present.isPresent()) {
            return present.get();
        }
        var now = clock.instant();
        jdbc.sql("insert into cab_code (tenant_id, id, vehicle_id, made_at) values (:organisation, :id,"
                        + " :vehicle, :now)")
                .param("organisation", Tenants.require().value())
                .param("id", Ids.next(now))
                .param("vehicle", vehicle)
                .param("now", now.atOffset(ZoneOffset.UTC))
                .update();
        history.add("made a cab code for", "vehicle", vehicle, registration);
        return find(vehicle).orElseThrow();
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER')")
    public CabCodeView present(UUID vehicle) {
        return find(vehicle).orElseThrow(() -> new CabCodeNotFound(vehicle));
    }

    /** Ends the vehicle's code: whoever has it in hand can report no more. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public void revoke(UUID vehicle) {
        var changed = jdbc.sql("""
            update cab_code set revoked_at = :now
            where tenant_id = :organisation and vehicle_id = :vehicle and revoked_at is null\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", Tenants.require().value())
                .param("vehicle", vehicle)
                .update();
        if (changed == 0) {
            throw new CabCodeNotFound(vehicle);
        }
        history.add("revoked the cab code of", "vehicle", vehicle, "");
    }

    /**
     * The vehicle of a cab code that somebody of its organisation has read with a camera or a scanner, as the address on the
     * card; empty where the text is none, or one of somebody else's, or no longer in force.
     */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public Optional<UUID> vehicleOf(String scanned) {
        var matcher = SCANNED.matcher(scanned.strip());
        if (!matcher.find()) {
            return Optional.empty();
        }
        return signed(matcher.group(1))
                .filter(code -> code.tenant().equals(Tenants.require()))
                .flatMap(code -> inForce(code.tenant(), code.id()))
                .map(Found::vehicle);
    }

    /** The vehicle that a cab code is for. */
    @Transactional(readOnly = true)
    public UUID vehicleOf(Acting acting) {
        return jdbc.sql("select vehicle_id from cab_code where tenant_id = :organisation and id = :id")
                .param("organisation", acting.organisation().value())
                .param("id", acting.token())
                .query(UUID.class)
                .optional()
                .orElseThrow(() -> new VehicleNotFound("of this code"));
    }

    @Override
    public Optional<Acting> of(HttpServletRequest request) {
        var matcher = PATH.matcher(request.getRequestURI());
        if (!request.getRequestURI().startsWith("/r/")) {
            return Optional.empty();
        }
        var cost = String.valueOf(request.getContentType()).startsWith("multipart/") ? COST_OF_PHOTOS : 1;
        byAddress.take(request.getRemoteAddr(), cost);
        if (!matcher.matches()) {
            return Optional.empty();
        }
        var code = matcher.group(1);
        var signed = signed(code);
        if (signed.isEmpty()) {
            return Optional.empty();
        }
        byCode.take(code, cost);
        var tenant = signed.get().tenant();
        var id = signed.get().id();
        return Tenants.callAs(tenant, () -> transaction.execute(status -> inForce(tenant, id)))
                .map(found -> new Acting(
                        tenant,
                        OrganisationKind.FLEET,
                        found.organisation(),
                        found.pattern(),
                        null,
                        "cab code of " + found.registration(),
                        Set.of(Role.CAB_CODE),
                        id));
    }

    /** What a code names; empty where we have not signed it. */
    private Optional<Named> signed(String code) {
        var bytes = Base64.getUrlDecoder().decode(code);
        var ids = Arrays.copyOf(bytes, ID_BYTES);
        if (!MessageDigest.isEqual(secrets.sign("cab-code", ids), Arrays.copyOfRange(bytes, ID_BYTES, bytes.length))) {
            return Optional.empty();
        }
        var buffer = ByteBuffer.wrap(ids);
        return Optional.of(new Named(
                new TenantId(new UUID(buffer.getLong(), buffer.getLong())),
                new UUID(buffer.getLong(), buffer.getLong())));
    }

    private Optional<Found> inForce(TenantId tenant, UUID id) {
        return jdbc.sql("""
            select c.vehicle_id, v.registration, o.name, o.pattern from cab_code c
            join vehicle v on v.tenant_id = c.tenant_id and v.id = c.vehicle_id
            join organisation o on o.id = c.tenant_id
            where c.tenant_id = :organisation and c.id = :id and c.revoked_at is null
                and v.retired_at is null\
            """)
                .param("organisation", tenant.value())
                .param("id", id)
                .query((row, number) -> new Found(
                        row.getObject("vehicle_id", UUID.class),
                        row.getString("registration"),
                        row.getString("name"),
                        row.getInt("pattern")))
                .optional();
    }

    private Optional<CabCodeView> find(UUID vehicle) {
        return jdbc.sql("""
            select * from cab_code
            where tenant_id = :organisation and vehicle_id = :vehicle and revoked_at is null
            order by made_at desc limit 1\
            """)
                .param("organisation", Tenants.require().value())
                .param("vehicle", vehicle)
                .query(this::view)
                .optional();
    }

    private CabCodeView view(ResultSet row, int number) throws SQLException {
        var id = row.getObject("id", UUID.class);
        var revoked = row.getObject("revoked_at", OffsetDateTime.class);
        return new CabCodeView(
                id,
                row.getObject("vehicle_id", UUID.class),
                code(row.getObject("tenant_id", UUID.class), id),
                row.getObject("made_at", OffsetDateTime.class).toInstant(),
                revoked == null ? null : revoked.toInstant());
    }

    private String code(UUID tenant, UUID id) {
        var ids = ByteBuffer.allocate(ID_BYTES)
                .putLong(tenant.getMostSignificantBits())
                .putLong(tenant.getLeastSignificantBits())
                .putLong(id.getMostSignificantBits())
                .putLong(id.getLeastSignificantBits())
                .array();
        var whole = ByteBuffer.allocate(ID_BYTES + SIGNATURE_BYTES)
                .put(ids)
                .put(secrets.sign("cab-code", ids))
                .array();
        return Base64.getUrlEncoder().withoutPadding().encodeToString(whole);
    }
}
