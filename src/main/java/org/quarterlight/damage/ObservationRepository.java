package org.quarterlight.damage;

import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.Repository;
import org.springframework.transaction.annotation.Transactional;

@Transactional(readOnly = true)
interface ObservationRepository extends Repository<Observation, UUID> {
    List<Observation> findByTenantIdAndDamageIdOrderBySeenAtDescIdDesc(UUID organisation, UUID damage);

    /** Of these damages, oldest first. */
    List<Observation> findByTenantIdAndDamageIdInOrderBySeenAtAscIdAsc(UUID organisation, Collection<UUID> damages);

    List<Observation> findByTenantIdAndIdIn(UUID organisation, Collection<UUID> ids);

    /** The newest of each of these damages. */
    @Query(nativeQuery = true, value = """
        select distinct on (o.damage_id) o.* from observation o
        where o.tenant_id = :organisation and o.damage_id in (:damages)
        order by o.damage_id, o.seen_at desc, o.id desc\
        """)
    List<Observation> newest(UUID organisation, Collection<UUID> damages);

    @Transactional
    Observation saveAndFlush(Observation observation);
}
