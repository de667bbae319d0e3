package org.quarterlight;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.modulith.events.FailedEventPublications;
import org.springframework.modulith.events.ResubmissionOptions;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;

/**
 * Tells again what a listener could not hear: the service was stopped, the database was away, or two met at one row.
 * Without it a closed job might never close its damages. What fails this often is a fault of the program, and stays in
 * the table for somebody to look at.
 */
@Component
class MissedEvents {
    static final int MOST_ATTEMPTS = 20;
    private static final int AT_ONCE = 50;
    private static final Logger LOG = LoggerFactory.getLogger(MissedEvents.class);

    private final FailedEventPublications failed;

    MissedEvents(FailedEventPublications failed) {
        this.failed = failed;
    }

    @Scheduled(fixedDelayString = "PT1M", initialDelayString = "PT1M")
    void tellAgain() {
        failed.resubmit(ResubmissionOptions.defaults().withBatchSize(AT_ONCE).withFilter(publication -> {
            if (publication.getCompletionAttempts() == MOST_ATTEMPTS) {
                LOG.error(
                        "{} was not heard after {} attempts",
                        publication.getEvent().getClass().getSimpleName(),
                        MOST_ATTEMPTS);
            }
            return publication.getCompletionAttempts() < MOST_ATTEMPTS;
        }));
    }
}
