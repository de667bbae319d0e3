package org.quarterlight.damage;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What a job needs to know of damages, for whoever makes one; their right was checked there. */
@Service
public class JobFacts {
    private final DamageReporting reporting;
    private final JdbcClient jdbc;

    JobFacts(DamageReporting reporting, JdbcClient jdbc) {
        this.reporting = reporting;
        this.jdbc = jdbc;
    }

    private record Photo(UUID damage, String sha256) {}

    /** The damages with these ids; one that is not there is {@link DamageNotFound}. */
    @Transactional(readOnly = true)
    public List<DamageView> damages(Collection<UUID> ids) {
        return reporting.known(ids.stream().distinct().toList());
    }

    /** The names of the photos of each damage. */
    @Transactional(readOnly = true)
    public Map<UUID, List<String>> photosOf(Collection<UUID> damages) {
        return jdbc
                .sql("""
                    select damage_id, sha256 from damage_photo
                    where tenant_id = :organisation and damage_id in (:damages) order by added_at, id\
                    """)
                .param("organisation", Tenants.require().value())
                .param("damages", damages)
                .query((row, number) -> new Photo(row.getObject("damage_id", UUID.class), row.getString("sha256")))
                .list()
                .stream()
                .collect(Collectors.groupingBy(Photo::damage, Collectors.mapping(Photo::sha256, Collectors.toList())));
    }
}
