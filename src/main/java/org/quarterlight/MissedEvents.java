package org.quarterlight;

import java.time.Duration;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.modulith.events.FailedEventPublications;
import org.springframework.modulith.events.IncompleteEventPublications;
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
    private static final Duration SILENT_FOR = Duration.ofMinutes(1);
    private static final Logger LOG = LoggerFactory.getLogger(MissedEvents.class);

    private final FailedEventPublications failed;
    private final IncompleteEventPublications incomplete;

    MissedEvents(FailedEventPublications failed, IncompleteEventPublications incomplete) {
        this.failed = failed;
        this.incomplete = incomplete;
    }

    /**
     * A service that has just started was not telling these; another node may be, so only what has lain for a minute is
     * told at once. Listeners hear things twice and do them once, so the price of a mistake is a look at the database.
     */
    @EventListener(ApplicationReadyEvent.class)
    void tellWhatAStoppedServiceLeft() {
        incomplete.resubmitIncompletePublicationsOlderThan(SILENT_FOR);
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
