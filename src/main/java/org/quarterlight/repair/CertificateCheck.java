package org.quarterlight.repair;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.quarterlight.history.ChainFault;
import org.quarterlight.history.Witness;
import org.quarterlight.proof.PublishedKeys;
import org.quarterlight.proof.Signed;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import tools.jackson.databind.json.JsonMapper;

/**
 * Compares each certificate that a history names with the row that is there, and the rows of its job with what was signed:
 * a changed note, a deleted photo and a certificate that is gone are found like a changed line.
 */
@Component
public class CertificateCheck implements Witness {
    private static final int AT_ONCE = 500;

    private final JdbcClient jdbc;
    private final PublishedKeys keys;
    private final JsonMapper json = JsonMapper.shared();

    public CertificateCheck(JdbcClient jdbc, PublishedKeys keys) {
        this.jdbc = jdbc;
        this.keys = keys;
    }

    private record Line(UUID job, String sha256) {}

    private record Parties(UUID fleet, UUID performer) {}

    private record Row(UUID fleet, UUID performer, int number, String jws) {}

    @Override
    public List<ChainFault> faults(UUID organisation) {
        var lines = jdbc.sql("""
            select subject_id, detail from history
            where tenant_id = :organisation and action = :action and subject = 'job' order by id\
            """)
                .param("organisation", organisation)
                .param("action", Certificates.CERTIFIED)
                .query((row, at) -> new Line(row.getObject("subject_id", UUID.class), row.getString("detail")))
                .list();
        var faults = new ArrayList<ChainFault>();
        for (var from = 0; from < lines.size(); from += AT_ONCE) {
            check(organisation, lines.subList(from, Math.min(lines.size(), from + AT_ONCE)), faults);
        }
        return faults;
    }

    private void check(UUID organisation, List<Line> lines, List<ChainFault> faults) {
        var jobs = lines.stream().map(Line::job).distinct().toList();
        var certificates = new HashMap<UUID, Row>();
        jdbc.sql("""
            select job_id, tenant_id, performer_id, number, jws from certificate
            where job_id in (:jobs) and (tenant_id = :organisation or performer_id = :organisation)\
            """).param("jobs", jobs).param("organisation", organisation).query(row -> {
            certificates.put(
                    row.getObject("job_id", UUID.class),
                    new Row(
                            row.getObject("tenant_id", UUID.class),
                            row.getObject("performer_id", UUID.class),
                            row.getInt("number"),
                            row.getString("jws")));
        });
        var present = new HashMap<UUID, Map<String, String>>();
        certificates.entrySet().stream()
                .collect(Collectors.groupingBy(
                        each -> new Parties(
                                each.getValue().fleet(), each.getValue().performer()),
                        Collectors.mapping(Map.Entry::getKey, Collectors.toList())))
                .forEach((parties, some) ->
                        present.putAll(JobRows.of(jdbc, parties.fleet(), parties.performer(), some)));
        for (var line : lines) {
            var row = certificates.get(line.job());
            if (row == null) {
                found(ChainFault.Kind.DELETED, "The certificate of job " + line.job() + " is gone", line, faults);
                continue;
            }
            var signed = verified(row.jws()).filter(each -> each.sha256().equals(line.sha256()));
            if (signed.isEmpty()) {
                found(
                        ChainFault.Kind.CHANGED,
                        "The certificate of job " + row.number() + " is not the one that was made",
                        line,
                        faults);
                continue;
            }
            var rows = json.readTree(signed.get().payload()).path("rows");
            var changed = present.getOrDefault(line.job(), Map.of()).entrySet().stream()
                    .filter(each -> rows.has(each.getKey()))
                    .filter(each -> !each.getKey().equals(JobRows.LOTS)
                            || row.performer().equals(organisation))
                    .filter(each -> !rows.path(each.getKey()).asString().equals(each.getValue()))
                    .map(Map.Entry::getKey)
                    .collect(Collectors.joining(", "));
            if (!changed.isEmpty()) {
                found(
                        ChainFault.Kind.CHANGED,
                        "Of job " + row.number() + " something was changed after it was certified: " + changed,
                        line,
                        faults);
            }
        }
    }

    private Optional<Signed> verified(String jws) {
        try {
            return keys.verified(jws);
        } catch (RuntimeException e) {
            return Optional.empty(); // no signature at all
        }
    }

    private static void found(ChainFault.Kind kind, String sentence, Line line, List<ChainFault> faults) {
        faults.add(new ChainFault(kind, null, null, sentence + "; its history names " + line.sha256()));
    }
}
