package org.quarterlight.repair;

import java.nio.charset.StandardCharsets;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import org.quarterlight.proof.CanonicalJson;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * The rows of closed jobs as they stand in the database, a SHA-256 for each table. What is read is fixed by column, so that a
 * column added later changes nothing, and does not depend on the zone of the session.
 */
final class JobRows {
    /** Of what only its performer sees. */
    static final String LOTS = "lots";

    private static final Map<String, String> TABLES = tables();

    private JobRows() {}

    private static Map<String, String> tables() {
        var tables = new LinkedHashMap<String, String>();
        tables.put("job", rows("job", "id", """
            r.number, r.brief, r.method, r.result, r.closing_notes, r.lot_number, r.glass_marking, r.technician_name,
            r.acceptance, extract(epoch from r.started_at), extract(epoch from r.inspected_at),
            extract(epoch from r.ended_at), r.ended_by\
            """));
        tables.put("phases", rows("phase", "job_id", """
            r.kind, extract(epoch from r.started_at), extract(epoch from r.ended_at), r.note, r.recorded_by,
            r.back_reason, r.reading, r.lamp, r.lamp_distance_mm, r.required_seconds, r.goggles,
            r.device_offset_seconds, extract(epoch from r.recorded_at), r.clear_of_air, r.lamp_reading,
            r.end_offset_seconds, extract(epoch from r.end_recorded_at)\
            """));
        tables.put(
                "notes",
                rows("job_note", "job_id", "r.text, r.phase_id, extract(epoch from r.written_at), r.written_by"));
        tables.put(
                "photos",
                rows(
                        "job_photo",
                        "job_id",
                        "r.shows, r.sha256, r.phase_id, extract(epoch from r.added_at), r.added_by"));
        tables.put("readings", rows("job_reading", "job_id", """
            r.conditions, r.outcome, r.objections, r.cautions, extract(epoch from r.read_at), r.read_by\
            """));
        tables.put(
                "overrides",
                rows("job_override", "job_id", "r.gap, r.reason, extract(epoch from r.made_at), r.made_by"));
        tables.put("calibrations", rows("job_calibration", "job_id", """
            r.passed, r.manner, r.tool, r.words, extract(epoch from r.done_at), r.done_by\
            """));
        tables.put("deviceTimes", rows("job_device_time", "job_id", """
            r.what, extract(epoch from r.done_at), r.offset_seconds, r.clock_changed_seconds\
            """));
        tables.put(LOTS, rows("lot_use", "job_id", "r.lot_id, r.amount, extract(epoch from r.used_at), r.used_by"));
        return tables;
    }

    private static String rows(String table, String job, String columns) {
        return "select r." + job + " as job, string_agg(jsonb_build_array(r.id, " + columns
                + ")::text, ',' order by r.id) as content from " + table + " r where r.tenant_id = :"
                + (table.equals("lot_use") ? "performer" : "fleet") + " and r." + job + " in (:jobs) group by 1";
    }

    /** Of each of these parties' jobs, table by table; a table that the caller may not see counts as empty. */
    static Map<UUID, Map<String, String>> of(JdbcClient jdbc, UUID fleet, UUID performer, Collection<UUID> jobs) {
        var digests = new HashMap<UUID, Map<String, String>>();
        var none = CanonicalJson.sha256(new byte[0]);
        TABLES.forEach((name, sql) -> {
            jobs.forEach(job ->
                    digests.computeIfAbsent(job, absent -> new TreeMap<>()).put(name, none));
            jdbc.sql(sql)
                    .param("fleet", fleet)
                    .param("performer", performer)
                    .param("jobs", jobs)
                    .query((row, at) -> Map.entry(row.getObject("job", UUID.class), row.getString("content")))
                    .list()
                    .forEach(row -> digests.computeIfAbsent(row.getKey(), absent -> new TreeMap<>())
                            .put(name, CanonicalJson.sha256(row.getValue().getBytes(StandardCharsets.UTF_8))));
        });
        return digests;
    }
}
