package org.quarterlight.damage;

import java.util.UUID;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Notes of damages that were judged before this was noted when they pass a limit: once, a hundred glasses a transaction, each
 * of which says how far it has come. No verdict is given anew.
 */
@Component
class GrowthCatchUp {
    private static final Logger LOG = LoggerFactory.getLogger(GrowthCatchUp.class);

    private final DamageReporting damages;
    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;

    GrowthCatchUp(DamageReporting damages, JdbcClient jdbc, PlatformTransactionManager transactions) {
        this.damages = damages;
        this.jdbc = jdbc;
        this.transaction = new TransactionTemplate(transactions);
    }

    @Scheduled(fixedDelayString = "PT1M", initialDelayString = "PT30S")
    void catchUp() {
        for (var organisation : jdbc.sql("select organisations_catching_up_growth() as organisation")
                .query((row, number) -> new TenantId(row.getObject("organisation", UUID.class)))
                .list()) {
            try {
                Tenants.runAs(organisation, this::goOn);
            } catch (RuntimeException e) {
                // Somebody changed the same damage, or the service ends: the part is done again later.
                LOG.warn("Growth of the damages of {} is noted later", organisation, e);
            }
        }
    }

    private void goOn() {
        while (Boolean.TRUE.equals(transaction.execute(status -> part()))) {
            LOG.debug("A part of the growth is noted");
        }
    }

    /** Whether more is left. Where another service is at it, nothing is left for this one. */
    private boolean part() {
        var organisation = Tenants.require().value();
        var last = jdbc.sql("""
            select followed_to from growth_catch_up where tenant_id = :organisation for update skip locked\
            """)
                .param("organisation", organisation)
                .query(UUID.class)
                .optional();
        if (last.isEmpty()) {
            return false;
        }
        var some = DamagedGlass.after(jdbc, last.get(), DamageReporting.JUDGED_AT_ONCE);
        some.forEach(damages::follow);
        if (some.size() < DamageReporting.JUDGED_AT_ONCE) {
            jdbc.sql("delete from growth_catch_up where tenant_id = :organisation")
                    .param("organisation", organisation)
                    .update();
            return false;
        }
        jdbc.sql("update growth_catch_up set followed_to = :to where tenant_id = :organisation")
                .param("to", some.getLast())
                .param("organisation", organisation)
                .update();
        return true;
    }
}
