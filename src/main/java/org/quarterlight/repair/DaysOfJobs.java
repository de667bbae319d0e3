package org.quarterlight.repair;

import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;
import org.quarterlight.damage.PlannedDays;
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
    public Optional<LocalDate> of(UUID job) {
        return jdbc.sql("""
            select planned_on from job where tenant_id = :organisation and id = :job and planned_on is not null\
            """)
                .param("organisation", Tenants.require().value())
                .param("job", job)
                .query((row, number) -> row.getObject("planned_on", LocalDate.class))
                .optional();
    }
}
