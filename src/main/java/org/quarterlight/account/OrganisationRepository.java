package org.quarterlight.account;

import java.util.Optional;
import java.util.UUID;
import org.springframework.data.repository.Repository;
import org.springframework.transaction.annotation.Transactional;

@Transactional(readOnly = true)
interface OrganisationRepository extends Repository<Organisation, UUID> {
    Optional<Organisation> findById(UUID id);

    @Transactional
    Organisation saveAndFlush(Organisation organisation);

    long count();
}
