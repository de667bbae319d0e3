package org.quarterlight.repair;

import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import java.util.UUID;
import org.quarterlight.damage.PlannedDays;
import org.quarterlight.kernel.Ids;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** The days that a fleet's jobs are planned for. */
@Component
class DaysOfJobs implements PlannedDays {
    private final JdbcClient jdbc;

    DaysOfJobs(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    public Map<UUID, LocalDate> of(Collection<UUID> jobs) {
        var days = new HashMap<UUID, LocalDate>();
        if (!jobs.isEmpty()) {
            jdbc.sql("""
                select id, planned_on from job
                where tenant_id = :organisation and id in (select unnest(cast(:jobs as uuid[]))) and planned_on is not null\
                """)
                    .param("organisation", Tenants.require().value())
                    .param("jobs", Ids.array(jobs))
                    .query(row -> {
                        days.put(row.getObject("id", UUID.class), row.getObject("planned_on", LocalDate.class));
                    });
        }
        return days;
    }
}
