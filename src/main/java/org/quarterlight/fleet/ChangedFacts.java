package org.quarterlight.fleet;

import java.util.Collection;
import java.util.UUID;
import org.quarterlight.tenancy.Tenants;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Tells whoever judges that vehicles are not what they were, and only of those where something is open to be judged. */
@Component
class ChangedFacts {
    private static final int TOLD_AT_ONCE = 100;

    private final JdbcClient jdbc;
    private final ApplicationEventPublisher events;

    ChangedFacts(JdbcClient jdbc, ApplicationEventPublisher events) {
        this.jdbc = jdbc;
        this.events = events;
    }

    void of(Collection<UUID> vehicles) {
        if (!vehicles.isEmpty()) {
            tell(jdbc.sql("""
                select vehicle_id from vehicle_condition
                where tenant_id = :organisation and vehicle_id in (:vehicles) and rank < :nothing\
                """).param("vehicles", vehicles));
        }
    }

    void ofDepot(UUID depot) {
        tell(jdbc.sql("""
            select c.vehicle_id
            from vehicle_condition c join vehicle v on v.tenant_id = c.tenant_id and v.id = c.vehicle_id
            where c.tenant_id = :organisation and v.tenant_id = :organisation and c.rank < :nothing
                and v.depot_id = :depot\
            """).param("depot", depot));
    }

    private void tell(JdbcClient.StatementSpec damaged) {
        var all = damaged.param("organisation", Tenants.require().value())
                .param("nothing", Fleet.NOTHING_OPEN)
                .query((row, number) -> row.getObject("vehicle_id", UUID.class))
                .list();
        for (int from = 0; from < all.size(); from += TOLD_AT_ONCE) {
            events.publishEvent(new VehicleFactsChanged(
                    Tenants.require(), all.subList(from, Math.min(all.size(), from + TOLD_AT_ONCE))));
        }
    }
}
