package org.quarterlight.history;

import org.quarterlight.tenancy.Tenants;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;

/** Signs each hour the ends of the histories that have gone on. */
@Component
class HistorySeals {
    private static final Logger LOG = LoggerFactory.getLogger(HistorySeals.class);

    private final HistoryChain chain;

    HistorySeals(HistoryChain chain) {
        this.chain = chain;
    }

    @Scheduled(cron = "0 7 * * * *")
    void seal() {
        chain.unsealed()
                .forEach(organisation ->
                        Tenants.runAs(organisation, () -> chain.seal().ifPresent(HistorySeals::tellTheLog)));
    }

    /** A log that is kept elsewhere holds what is cut off here. */
    private static void tellTheLog(SealedHead head) {
        LOG.info("The history of {} has line {} with hash {}", head.organisation(), head.number(), head.hash());
    }
}
