package org.quarterlight.overview;

import java.util.HashMap;
import java.util.Map;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.damage.DamageFilter;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.inspection.InspectionFilter;
import org.quarterlight.inspection.Inspections;
import org.quarterlight.repair.JobFilter;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.HeaderCounts;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Counts what calls for work, and nothing else: a number beside a word is a task. */
@Component
class WaitingWork implements HeaderCounts {
    private final DamageReporting damages;
    private final Inspections inspections;
    private final RepairJobs jobs;
    private final PriceAgreements prices;

    WaitingWork(DamageReporting damages, Inspections inspections, RepairJobs jobs, PriceAgreements prices) {
        this.damages = damages;
        this.inspections = inspections;
        this.jobs = jobs;
        this.prices = prices;
    }

    @Override
    @Transactional(readOnly = true)
    public Map<String, Integer> of(Acting acting) {
        var counts = new HashMap<String, Integer>();
        if (acting.is(Role.MANAGER)) {
            put(counts, "/damages?needs=decision", damages.count(DamageFilter.toDecide()));
            put(counts, "/jobs?state=open", jobs.count(JobFilter.allOpen()));
        }
        if (acting.kind() == OrganisationKind.FLEET && acting.isAny(Role.MANAGER, Role.TECHNICIAN)) {
            put(counts, "/inspections", inspections.count(InspectionFilter.overdue()));
        }
        if (acting.is(Role.DISPATCHER)) {
            put(
                    counts,
                    "/jobs?state=approved",
                    jobs.count(JobFilter.notPlaced(acting.organisation().value())));
        }
        if (acting.isAny(Role.ADMINISTRATOR, Role.MANAGER, Role.DISPATCHER)) {
            put(counts, "/partners", prices.waiting().size());
        }
        return counts;
    }

    private static void put(Map<String, Integer> counts, String href, long count) {
        if (count > 0) {
            counts.put(href, (int) count);
        }
    }
}
