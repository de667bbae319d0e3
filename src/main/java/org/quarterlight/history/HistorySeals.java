package org.quarterlight.history;

import org.quarterlight.tenancy.Tenants;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;

/** Signs each hour the ends of the histories that have gone on. */
@Component
class HistorySeals {
    private final HistoryChain chain;

    HistorySeals(HistoryChain chain) {
        this.chain = chain;
    }

    @Scheduled(cron = "0 7 * * * *")
    void seal() {
        chain.unsealed().forEach(organisation -> Tenants.runAs(organisation, chain::seal));
    }
}
