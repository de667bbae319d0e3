package org.quarterlight.dispatch;

import java.util.Optional;
import java.util.UUID;
import org.quarterlight.repair.JobVans;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** A stop stays on its day when the work is done, so it tells which van came. */
@Component
class StopVans implements JobVans {
    private final JdbcClient jdbc;

    StopVans(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<UUID> vanOf(UUID job) {
        return jdbc.sql("select van_id from stop where tenant_id = :organisation and job_id = :job")
                .param("organisation", Tenants.require().value())
                .param("job", job)
                .query(UUID.class)
                .optional();
    }
}
