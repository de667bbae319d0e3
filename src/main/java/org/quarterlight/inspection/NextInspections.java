package org.quarterlight.inspection;

import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import java.util.UUID;
import org.quarterlight.damage.NextLooks;
import org.quarterlight.kernel.Ids;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** The day each vehicle's glass is looked at next: the one planned for it, else the one it is due on. */
@Component
class NextInspections implements NextLooks {
    private final JdbcClient jdbc;
    private final Clock clock;

    NextInspections(JdbcClient jdbc, Clock clock) {
        this.jdbc = jdbc;
        this.clock = clock;
    }

    @Override
    public Map<UUID, LocalDate> of(Collection<UUID> vehicles) {
        var days = new HashMap<UUID, LocalDate>();
        if (!vehicles.isEmpty()) {
            jdbc.sql("""
                select i.vehicle_id, min(coalesce(i.planned_on, i.due_on)) as day
                from inspection i
                join vehicle v on v.tenant_id = i.tenant_id and v.id = i.vehicle_id
                join depot d on d.tenant_id = v.tenant_id and d.id = v.depot_id
                where i.tenant_id = :organisation and i.vehicle_id in (select unnest(cast(:vehicles as uuid[])))
                    and i.done_at is null
                    and coalesce(i.planned_on, i.due_on) >= (:now at time zone d.zone)::date
                group by i.vehicle_id\
                """)
                    .param("organisation", Tenants.require().value())
                    .param("vehicles", Ids.array(vehicles))
                    .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                    .query(row -> {
                        days.put(row.getObject("vehicle_id", UUID.class), row.getObject("day", LocalDate.class));
                    });
        }
        return days;
    }
}
