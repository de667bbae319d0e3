package org.quarterlight.rulebook;

import org.quarterlight.tenancy.Tenants;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;

/** Tells, when the day of a published sheet has come, each fleet that it judges by something else from now on. */
@Component
class SheetStarts {
    private final SheetStore store;
    private final Rulebook rulebook;

    SheetStarts(SheetStore store, Rulebook rulebook) {
        this.store = store;
        this.rulebook = rulebook;
    }

    @Scheduled(fixedDelayString = "PT1M", initialDelayString = "PT30S")
    void begin() {
        store.waiting().forEach(organisation -> Tenants.runAs(organisation, rulebook::begin));
    }
}
