package org.quarterlight.history;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.proof.CanonicalJson;
import org.quarterlight.proof.PublishedKeys;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import tools.jackson.databind.json.JsonMapper;

/**
 * Reads a whole history again, in the order of its chain, and computes every hash anew: with this code, not with the
 * database's, which whoever changes rows could change as well. Lines pass by one at a time. To see one moment of the
 * history, the caller's transaction reads repeatably.
 */
@Component
public class ChainCheck {
    private static final DateTimeFormatter AT = DateTimeFormatter.ofPattern("uuuu-MM-dd'T'HH:mm:ss.SSSSSS'Z'");
    private static final String BEFORE_THE_FIRST = "0".repeat(64);
    private static final int FETCHED_AT_ONCE = 1000;

    private final JdbcClient jdbc;
    private final PublishedKeys keys;
    private final JsonMapper json = JsonMapper.shared();

    public ChainCheck(JdbcClient jdbc, PublishedKeys keys) {
        this.jdbc = jdbc;
        this.keys = keys;
    }

    /**
     * Reads one organisation's history.
     *
     * @param kept an end of the chain that somebody has kept elsewhere, such as on a certificate
     */
    public ChainReport of(UUID organisation, @Nullable ChainHead kept) {
        var reading = new Reading(organisation, seals(organisation));
        if (kept != null) {
            reading.expect(kept.number(), kept.hash(), "The end that you have kept");
        }
        jdbc.sql("""
            select l.number, l.previous, l.hash, l.history_id, h.id, h.at, h.person_id, h.who, h.action, h.subject,
                h.subject_id, h.detail
            from history_link l left join history h on h.tenant_id = l.tenant_id and h.id = l.history_id
            where l.tenant_id = :organisation order by l.number\
            """)
                .withFetchSize(FETCHED_AT_ONCE)
                .param("organisation", organisation)
                .query(reading::link);
        reading.end(head(organisation).orElse(new ChainHead(organisation, 0, BEFORE_THE_FIRST)));
        jdbc.sql("""
            select h.id from history h where h.tenant_id = :organisation and not exists (
                select from history_link l where l.tenant_id = h.tenant_id and l.history_id = h.id) order by h.id\
            """)
                .withFetchSize(FETCHED_AT_ONCE)
                .param("organisation", organisation)
                .query(reading::unlinked);
        return reading.report();
    }

    Optional<ChainHead> head(UUID organisation) {
        return jdbc.sql("select number, hash from history_head where tenant_id = :organisation")
                .param("organisation", organisation)
                .query((row, at) -> new ChainHead(organisation, row.getLong("number"), hex(row.getBytes("hash"))))
                .optional();
    }

    private List<SealedHead> seals(UUID organisation) {
        return jdbc.sql("select * from history_seal where tenant_id = :organisation order by number")
                .param("organisation", organisation)
                .query(ChainCheck::seal)
                .list();
    }

    static SealedHead seal(ResultSet row, int at) throws SQLException {
        return new SealedHead(
                row.getObject("tenant_id", UUID.class),
                row.getLong("number"),
                hex(row.getBytes("hash")),
                row.getObject("sealed_at", OffsetDateTime.class).toInstant(),
                row.getString("jws"));
    }

    static String hex(byte[] bytes) {
        return HexFormat.of().formatHex(bytes);
    }

    /** One pass over the chain: what the line before was, and what is expected of the ones to come. */
    private final class Reading {
        private record Expected(String hash, String whose) {}

        private final UUID organisation;
        private final TreeMap<Long, List<Expected>> expected = new TreeMap<>();
        private final List<ChainFault> faults = new ArrayList<>();
        private final long seals;
        private long faultsInAll;
        private long lines;
        private long last;
        private String lastHash = BEFORE_THE_FIRST;

        Reading(UUID organisation, List<SealedHead> sealed) {
            this.organisation = organisation;
            this.seals = sealed.size();
            sealed.forEach(this::expect);
        }

        /** The signature counts, not what stands beside it. */
        private void expect(SealedHead sealed) {
            var signed = keys.verified(sealed.jws()).map(each -> json.readTree(each.payload()));
            var sound = signed.filter(
                            head -> head.path("organisation").asString().equals(organisation.toString())
                                    && head.path("number").asLong() == sealed.number()
                                    && head.path("hash").asString().equals(sealed.hash()))
                    .isPresent();
            if (sound) {
                expect(sealed.number(), sealed.hash(), "An end signed at " + sealed.sealedAt());
            } else {
                found(
                        ChainFault.Kind.SEAL_FORGED,
                        sealed.number(),
                        null,
                        "The signed end at line " + sealed.number() + " does not bear a signature of this service");
            }
        }

        void expect(long number, String hash, String whose) {
            expected.computeIfAbsent(number, absent -> new ArrayList<>()).add(new Expected(hash, whose));
        }

        void link(ResultSet row) throws SQLException {
            var number = row.getLong("number");
            var line = row.getObject("history_id", UUID.class);
            if (number != last + 1) {
                found(
                        ChainFault.Kind.DELETED,
                        last + 1,
                        null,
                        number == last + 2
                                ? "Line " + (last + 1) + " is missing from the chain"
                                : "Lines " + (last + 1) + " to " + (number - 1) + " are missing from the chain");
            } else if (!hex(row.getBytes("previous")).equals(lastHash)) {
                found(
                        ChainFault.Kind.REORDERED,
                        number,
                        line,
                        "Line " + number + " does not follow the line before it");
            }
            var hash = hex(row.getBytes("hash"));
            if (row.getObject("id") == null) {
                found(ChainFault.Kind.DELETED, number, line, "Line " + number + " has been deleted");
            } else {
                lines++;
                if (!hash.equals(computed(row, number))) {
                    found(ChainFault.Kind.CHANGED, number, line, "Line " + number + " is not what was written there");
                }
            }
            var here = expected.remove(number);
            if (here != null) {
                here.stream()
                        .filter(each -> !each.hash().equals(hash))
                        .forEach(each -> found(
                                ChainFault.Kind.WRITTEN_ANEW,
                                number,
                                line,
                                each.whose() + " has another hash for line " + number
                                        + ": it or lines before it were written anew"));
            }
            last = number;
            lastHash = hash;
        }

        private String computed(ResultSet row, long number) throws SQLException {
            var content = new TreeMap<String, @Nullable Object>();
            content.put("action", row.getString("action"));
            content.put(
                    "at", AT.format(row.getObject("at", OffsetDateTime.class).withOffsetSameInstant(ZoneOffset.UTC)));
            content.put("detail", row.getString("detail"));
            content.put("id", row.getString("id"));
            content.put("number", number);
            content.put("organisation", organisation.toString());
            content.put("person", row.getString("person_id"));
            content.put("previous", hex(row.getBytes("previous")));
            content.put("subject", row.getString("subject"));
            content.put("subjectId", row.getString("subject_id"));
            content.put("who", row.getString("who"));
            return CanonicalJson.sha256(CanonicalJson.of(json, content));
        }

        void end(ChainHead head) {
            if (head.number() != last || !head.hash().equals(lastHash)) {
                found(
                        ChainFault.Kind.CUT_OFF,
                        last + 1,
                        null,
                        "The chain ends at line " + last + ", but the last line written was " + head.number());
            }
            for (Map.Entry<Long, List<Expected>> beyond : expected.entrySet()) {
                beyond.getValue()
                        .forEach(each -> found(
                                ChainFault.Kind.CUT_OFF,
                                beyond.getKey(),
                                null,
                                each.whose() + " is line " + beyond.getKey()
                                        + ", which is not there: the history was cut off"));
            }
        }

        void unlinked(ResultSet row) throws SQLException {
            lines++;
            var line = row.getObject("id", UUID.class);
            found(ChainFault.Kind.INSERTED, null, line, "Line " + line + " was put in beside the chain");
        }

        private void found(ChainFault.Kind kind, @Nullable Long number, @Nullable UUID line, String sentence) {
            faultsInAll++;
            if (faults.size() < ChainReport.LISTED_AT_MOST) {
                faults.add(new ChainFault(kind, number, line, sentence));
            }
        }

        ChainReport report() {
            return new ChainReport(
                    organisation, faultsInAll == 0, lines, seals, last == 0 ? null : lastHash, faults, faultsInAll);
        }
    }
}
