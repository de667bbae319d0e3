package org.quarterlight.account;

import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.Repository;
import org.springframework.transaction.annotation.Transactional;

/** Both sides look for the same row, each by its own key. */
@Transactional(readOnly = true)
interface PartnerRepository extends Repository<Partner, UUID> {
    @Query("select p from Partner p where (p.tenantId = :side or p.performerId = :side) and p.id = :id")
    Optional<Partner> findBySide(UUID side, UUID id);

    Optional<Partner> findByTenantIdAndPerformerId(UUID fleet, UUID repairer);

    @Transactional
    Partner saveAndFlush(Partner partner);
}
