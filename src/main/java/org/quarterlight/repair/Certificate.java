package org.quarterlight.repair;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * What is signed of a closed job: the job as both parties saw it when it closed, with its brief and its record, and what
 * went into it.
 *
 * @param type says how to read it; another shape of the content gets another number
 * @param number the job's
 * @param issuer by whose deed it was made: who performed the job, or for one from before there were certificates, who asked
 * @param rows of each table that holds the record, the SHA-256 of its rows of this job, by which a later change is found;
 *     older certificates have none
 * @param history where the issuer's history ended then, so that it cannot be cut off before that unseen
 */
public record Certificate(
        String type,
        UUID id,
        int number,
        Instant issuedAt,
        String issuer,
        CertifiedJob job,
        List<Lot> lots,
        @Nullable HistoryEnd history,
        @Nullable Map<String, String> rows) {
    static final String TYPE = "quarterlight-certificate/1";

    public Certificate {
        lots = List.copyOf(lots);
        rows = rows == null ? null : Map.copyOf(rows);
    }

    /** Of what went into the job. */
    public record Lot(LotKind kind, String number, String amount) {}

    /** The line's number and hash, SHA-256 in hexadecimal. */
    public record HistoryEnd(UUID organisation, long number, String hash) {}
}
