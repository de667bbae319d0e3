package org.quarterlight.account;

import java.util.Optional;
import java.util.UUID;
import org.springframework.data.repository.Repository;
import org.springframework.transaction.annotation.Transactional;

@Transactional(readOnly = true)
interface PersonRepository extends Repository<Person, UUID> {
    Optional<Person> findByEmail(String email);

    Optional<Person> findById(UUID id);

    @Transactional
    Person saveAndFlush(Person person);
}
