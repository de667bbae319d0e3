package org.quarterlight.damage;

import java.time.Clock;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Verdict;
import org.quarterlight.kernel.Ids;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import tools.jackson.databind.json.JsonMapper;

/** The verdicts as they were given. Only added to, and only where one says something new. */
@Component
class Verdicts {
    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final Clock clock;

    Verdicts(JdbcClient jdbc, JsonMapper json, Clock clock) {
        this.jdbc = jdbc;
        this.json = json;
        this.clock = clock;
    }

    private record Row(UUID damage, String content) {}

    /** A verdict and, but for those from before that was kept, what it was judged with. */
    record Kept(Verdict verdict, @Nullable JudgedWith with) {}

    /** Whether the verdict says something else than the one before, and was added. */
    boolean add(UUID damage, Verdict verdict, @Nullable JudgedWith with, Optional<Verdict> before) {
        if (before.filter(known -> sameBut(known, verdict)).isPresent()) {
            return false;
        }
        jdbc.sql("""
            insert into verdict (tenant_id, id, damage_id, observation_id, outcome, content, judged_at, judged_with)
            values (:organisation, :id, :damage, :observation, :outcome, cast(:content as jsonb), :at,
                cast(:with as jsonb))\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", Ids.next(clock.instant()))
                .param("damage", damage)
                .param("observation", verdict.judgedFrom().observation())
                .param("outcome", verdict.outcome().name())
                .param("content", json.writeValueAsString(verdict))
                .param("at", verdict.judgedAt().atOffset(ZoneOffset.UTC))
                .param("with", with == null ? null : json.writeValueAsString(with))
                .update();
        return true;
    }

    Map<UUID, Verdict> newest(Collection<UUID> damages) {
        var newest = new HashMap<UUID, Verdict>();
        if (!damages.isEmpty()) {
            jdbc.sql("""
                select distinct on (v.damage_id) v.damage_id, v.content from verdict v
                where v.tenant_id = :organisation and v.damage_id in (:damages)
                order by v.damage_id, v.id desc\
                """)
                    .param("organisation", Tenants.require().value())
                    .param("damages", damages)
                    .query((row, number) -> new Row(row.getObject("damage_id", UUID.class), row.getString("content")))
                    .list()
                    .forEach(row -> newest.put(row.damage(), json.readValue(row.content(), Verdict.class)));
        }
        return newest;
    }

    /** All of one damage, newest first. */
    List<Kept> of(UUID damage) {
        return jdbc.sql("""
            select content, judged_with from verdict
            where tenant_id = :organisation and damage_id = :damage order by id desc limit 200\
            """)
                .param("organisation", Tenants.require().value())
                .param("damage", damage)
                .query((row, number) -> {
                    var with = row.getString("judged_with");
                    return new Kept(
                            json.readValue(row.getString("content"), Verdict.class),
                            with == null ? null : json.readValue(with, JudgedWith.class));
                })
                .list();
    }

    /** To the byte: as the one verdict is written, so is the other. */
    boolean same(Verdict one, Verdict other) {
        return json.writeValueAsString(one).equals(json.writeValueAsString(other));
    }

    /** The time of judging alone is nothing new. */
    private static boolean sameBut(Verdict one, Verdict other) {
        return one.equals(new Verdict(
                other.outcome(),
                other.by(),
                other.sentence(),
                other.answers(),
                other.findings(),
                one.judgedAt(),
                other.judgedFrom(),
                other.measure()));
    }
}
