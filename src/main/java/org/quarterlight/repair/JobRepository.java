package org.quarterlight.repair;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.repository.Repository;
import org.springframework.transaction.annotation.Transactional;

/** Each party looks for the same row by its own key: the policy protects, the side finds the index. */
@Transactional(readOnly = true)
interface JobRepository extends Repository<Job, UUID> {
    Optional<Job> findByTenantIdAndId(UUID fleet, UUID id);

    Optional<Job> findByPerformerIdAndId(UUID performer, UUID id);

    List<Job> findByTenantIdAndFollowsId(UUID fleet, UUID follows);

    @Transactional
    Job saveAndFlush(Job job);
}
