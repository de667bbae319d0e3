package org.quarterlight.repair;

import jakarta.validation.Valid;
import java.math.BigDecimal;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.DamageState;
import org.quarterlight.damage.JobFacts;
import org.quarterlight.damage.ObserveDamage;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Refused;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.TenantId;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.modulith.events.ApplicationModuleListener;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.validation.annotation.Validated;

/**
 * Damages measured at the vehicle. A performer has none of its own: what it measured stands in the job's notes, and the
 * fleet hears of it, adds it to the damage and judges the glass again. The brief stays as it was agreed.
 */
@Service
@Validated
public class SiteMeasurements {
    private final JobAccess access;
    private final JobRecords records;
    private final JobFacts facts;
    private final DamageReporting damages;
    private final ApplicationEventPublisher events;
    private final TransactionTemplate apart;
    private final Clock clock;

    SiteMeasurements(
            JobAccess access,
            JobRecords records,
            JobFacts facts,
            DamageReporting damages,
            ApplicationEventPublisher events,
            PlatformTransactionManager transactions,
            Clock clock) {
        this.access = access;
        this.records = records;
        this.facts = facts;
        this.damages = damages;
        this.events = events;
        this.apart = new TransactionTemplate(transactions);
        apart.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
        this.clock = clock;
    }

    /** While the work is under way. */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public void measure(UUID id, @Valid MeasureOnSite command) {
        var job = access.performed(id);
        job.record("measured on");
        var damage = access.brief(job).damages().stream()
                .filter(each -> each.id().equals(command.damage()))
                .findFirst()
                .orElseThrow(() -> new Invalid("damage", "This damage is not in the job"));
        if (isLarger(command.pitMm(), command.diameterMm())) {
            throw new Invalid("pitMm", "The pit is part of the damage, so it is not larger");
        }
        if (damage.kind() == DamageKind.CRACK) {
            if (command.longestLegMm() != null && isLarger(command.diameterMm(), command.longestLegMm())) {
                throw new Invalid(
                        "longestLegMm",
                        "The crack is " + command.diameterMm().toPlainString()
                                + " mm across, so it is at least as long; you say "
                                + command.longestLegMm().toPlainString());
            }
        } else if (isLarger(command.longestLegMm(), command.diameterMm())) {
            throw new Invalid("longestLegMm", "A leg is part of the damage, so it is not longer than it is across");
        }
        var now = clock.instant();
        var told = access.told(job, command.occurredAt(), null, now);
        var at = told.at();
        var by = Acting.require().name();
        records.addNote(job, Ids.next(now), words(damage.number(), command), null, told, by, damage.id());
        access.touched(job);
        events.publishEvent(new MeasuredOnSite(
                new TenantId(job.fleet()), job.id(), damage.id(), seen(damage, command, job.number()), at, by));
    }

    /** Hearing of it as the fleet; events may be delivered twice, and the second time adds nothing. */
    @ApplicationModuleListener
    void on(MeasuredOnSite event) {
        var damage = facts.damages(List.of(event.damage())).getFirst();
        if (damage.state() == DamageState.CLOSED
                || event.at().equals(damage.observation().seenAt())) {
            return;
        }
        try {
            // In a transaction of its own: one that was refused can keep no word of why.
            apart.executeWithoutResult(status ->
                    damages.observed(event.damage(), new ObserveDamage(null, event.at(), event.seen()), event.by()));
        } catch (Invalid | Refused e) {
            // What does not fit the fleet's glass stays in the job's notes; telling it again would not make it fit.
            access.tell("could not add a measurement of", access.find(event.job()), String.valueOf(e.getMessage()));
        }
    }

    /** A drawing of its legs or its course belongs to the lengths it was drawn with. */
    private static SeenDamage seen(JobBrief.BriefDamage damage, MeasureOnSite command, int job) {
        var same = command.diameterMm().compareTo(damage.diameterMm()) == 0
                && (damage.course().isEmpty()
                        || command.longestLegMm() == null
                        || damage.longestLegMm() == null
                        || command.longestLegMm().compareTo(damage.longestLegMm()) == 0);
        return new SeenDamage(
                damage.xMm(),
                damage.yMm(),
                same ? damage.toXMm() : null,
                same ? damage.toYMm() : null,
                command.diameterMm(),
                command.diameterStandardUncertaintyMm(),
                command.pitMm() == null ? fitting(damage.pitMm(), command) : command.pitMm(),
                command.longestLegMm() == null ? fittingLength(damage, command, same) : command.longestLegMm(),
                command.layers() == null ? damage.layers() : command.layers(),
                command.condition() == null ? damage.condition() : command.condition(),
                Seen.GAUGE,
                null,
                "Measured at the vehicle, job " + job,
                same ? damage.course() : List.of(),
                same ? damage.legs() : List.of(),
                same ? damage.bodyMm() : null,
                null);
    }

    /** What was measured before still holds, as far as it can. */
    private static @Nullable BigDecimal fitting(@Nullable BigDecimal before, MeasureOnSite command) {
        return isLarger(before, command.diameterMm()) ? null : before;
    }

    /** A leg is no longer than the damage is across; a crack is no shorter, and one of another size is of another length. */
    private static @Nullable BigDecimal fittingLength(
            JobBrief.BriefDamage damage, MeasureOnSite command, boolean same) {
        if (damage.kind() == DamageKind.CRACK) {
            return same ? damage.longestLegMm() : null;
        }
        return fitting(damage.longestLegMm(), command);
    }

    private static boolean isLarger(@Nullable BigDecimal part, BigDecimal whole) {
        return part != null && part.compareTo(whole) > 0;
    }

    private static String words(int number, MeasureOnSite command) {
        var words = new ArrayList<String>();
        words.add("Damage " + number + " measured: " + command.diameterMm().toPlainString() + " mm across");
        if (command.pitMm() != null) {
            words.add("pit " + command.pitMm().toPlainString() + " mm");
        }
        if (command.longestLegMm() != null) {
            words.add("longest leg " + command.longestLegMm().toPlainString() + " mm");
        }
        if (command.layers() != null) {
            words.add(command.layers() == Layers.OUTER ? "smooth inside" : "rough inside");
        }
        if (command.condition() != null) {
            words.add(command.condition().name().toLowerCase(Locale.ROOT).replace('_', ' '));
        }
        return String.join(", ", words);
    }
}
