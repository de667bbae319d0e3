package org.quarterlight.damage;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.repository.Repository;
import org.springframework.transaction.annotation.Transactional;

/** Every query names its side, beside the row policy: the policy protects, the side finds the index. */
@Transactional(readOnly = true)
interface DamageRepository extends Repository<Damage, UUID> {
    Optional<Damage> findByTenantIdAndId(UUID organisation, UUID id);

    List<Damage> findByTenantIdAndIdIn(UUID organisation, Collection<UUID> ids);

    List<Damage> findByTenantIdAndWindscreenIdOrderByNumber(UUID organisation, UUID windscreen);

    List<Damage> findByTenantIdAndJobId(UUID organisation, UUID job);

    @Transactional
    Damage saveAndFlush(Damage damage);

    @Transactional
    void flush();
}
