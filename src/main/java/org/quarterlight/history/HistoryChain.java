package org.quarterlight.history;

import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.proof.SigningKeys;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Isolation;
import org.springframework.transaction.annotation.Transactional;

/**
 * The chain that every line of the history is linked into by the database, at the end of the transaction that adds it. Here
 * it is looked at as a whole, and its end is signed.
 */
@Service
public class HistoryChain {
    private static final String HASH = "[0-9a-f]{64}";
    private static final ListQuery.Order NEWEST_FIRST =
            ListQuery.Order.descending("newest", new ListQuery.Key("s.number", "bigint"));

    private final JdbcClient jdbc;
    private final ChainCheck check;
    private final SigningKeys keys;
    private final List<Witness> witnesses;
    private final Clock clock;

    HistoryChain(JdbcClient jdbc, ChainCheck check, SigningKeys keys, List<Witness> witnesses, Clock clock) {
        this.witnesses = List.copyOf(witnesses);
        this.jdbc = jdbc;
        this.check = check;
        this.keys = keys;
        this.clock = clock;
    }

    /** What is signed: the type says how to read it, for a signed end is kept for longer than any version of the service. */
    private record Content(String type, UUID organisation, long number, String hash, Instant sealedAt) {
        static final String TYPE = "quarterlight-history-end/1";
    }

    /**
     * Whether the organisation's history is as it was written.
     *
     * @param number of the last line of an end that was kept elsewhere, with its hash; both or neither
     */
    @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public ChainReport checked(@Nullable Long number, @Nullable String hash) {
        var organisation = Tenants.require().value();
        return check.of(organisation, kept(number, hash))
                .with(witnesses.stream()
                        .flatMap(each -> each.faults(organisation).stream())
                        .toList());
    }

    private static @Nullable ChainHead kept(@Nullable Long number, @Nullable String hash) {
        var text = hash == null ? "" : hash.replaceAll("\\s", "").toLowerCase(Locale.ROOT);
        if (number == null && text.isEmpty()) {
            return null;
        }
        if (number == null || number < 1) {
            throw new Invalid("number", "Give the number that stands beside the hash");
        }
        if (!text.matches(HASH)) {
            throw new Invalid("hash", "A hash has 64 digits, 0 to 9 and a to f");
        }
        return new ChainHead(Tenants.require().value(), number, text);
    }

    /** Signs the present end of the organisation's history; nothing where nothing has been done yet. */
    @Transactional
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public Optional<SealedHead> sealNow() {
        return seal();
    }

    /** The signed ends, the newest first. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('ADMINISTRATOR')")
    public Slice<SealedHead> seals(SliceRequest wanted) {
        return new ListQuery("s.tenant_id, s.number, s.hash, s.sealed_at, s.jws", "history_seal s")
                .where(
                        "s.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .slice(jdbc, NEWEST_FIRST, wanted, ChainCheck::seal);
    }

    /** The same, for what is signed besides and for the hourly round. Asks nobody's right. */
    @Transactional
    public Optional<SealedHead> seal() {
        return check.head(Tenants.require().value())
                .filter(head -> head.number() > 0)
                .map(this::sealed);
    }

    private SealedHead sealed(ChainHead head) {
        var now = clock.instant().truncatedTo(ChronoUnit.MICROS);
        var signed = keys.sign(new Content(Content.TYPE, head.organisation(), head.number(), head.hash(), now));
        jdbc.sql("""
            insert into history_seal (tenant_id, number, hash, sealed_at, jws)
            values (:organisation, :number, :hash, :now, :jws) on conflict do nothing\
            """)
                .param("organisation", head.organisation())
                .param("number", head.number())
                .param("hash", HexFormat.of().parseHex(head.hash()))
                .param("now", now.atOffset(ZoneOffset.UTC))
                .param("jws", signed.jws())
                .update();
        return jdbc.sql("select * from history_seal where tenant_id = :organisation and number = :number")
                .param("organisation", head.organisation())
                .param("number", head.number())
                .query(ChainCheck::seal)
                .single();
    }

    List<TenantId> unsealed() {
        return jdbc.sql("select organisations_with_unsealed_history() as organisation")
                .query((row, at) -> new TenantId(row.getObject("organisation", UUID.class)))
                .list();
    }
}
