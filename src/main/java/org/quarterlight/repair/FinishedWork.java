package org.quarterlight.repair;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Choices;
import org.quarterlight.eligibility.DamageFacts;
import org.quarterlight.eligibility.Eligibility;
import org.quarterlight.eligibility.FinishedAsks;
import org.quarterlight.eligibility.Glazing;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.SheetCopy;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.Measured;
import org.quarterlight.kernel.Invalid;
import org.springframework.stereotype.Component;
import tools.jackson.databind.json.JsonMapper;

/** Judges finished repairs from a job's brief alone, which is all that its performer knows of the fleet's rules and glass. */
@Component
class FinishedWork {
    private final JsonMapper json;

    FinishedWork(JsonMapper json) {
        this.json = json;
    }

    /** What the look over has to say, damage by damage; nothing where no sheet came with the brief. */
    List<AskedOfFinished> asked(JobBrief brief) {
        var accepting = brief.accepting();
        if (accepting == null) {
            return List.of();
        }
        var sheets = sheets(accepting);
        var vehicle = vehicle(brief, accepting);
        return brief.damages().stream()
                .map(damage -> new AskedOfFinished(
                        damage.id(), damage.number(), damage.kind(), FinishedAsks.of(sheets, vehicle, damage.kind())))
                .toList();
    }

    /** Empty where no acceptance sheet came with the brief, or none of them speaks of such a repair. */
    Optional<JobAcceptance> judge(JobBrief brief, List<FinishedRepair> found, Instant at, ZoneId zone, String by) {
        var accepting = brief.accepting();
        if (accepting == null) {
            return Optional.empty();
        }
        var byDamage = byDamage(brief, found);
        var asked = asked(brief).stream().collect(Collectors.toMap(AskedOfFinished::damage, AskedOfFinished::asks));
        var facts = new ArrayList<DamageFacts>();
        for (var damage : brief.damages()) {
            var repair = byDamage.get(damage.id());
            facts.add(finished(
                    damage,
                    repair,
                    Objects.requireNonNull(asked.get(damage.id())),
                    "found[" + (repair == null ? found.size() : found.indexOf(repair)) + "].",
                    at.atZone(zone).toLocalDate(),
                    zone));
        }
        accepting.others().forEach(other -> facts.add(other.facts(zone)));
        var choices = Choices.standard();
        var judge = Eligibility.on(
                new Glazing(GlassPattern.of(brief.glass()), accepting.pattern(), vehicle(brief, accepting)),
                sheets(accepting),
                new Choices(
                        choices.acceptedRiskForSafety(),
                        accepting.acceptedRisk(),
                        choices.leaveAlonePitMm(),
                        choices.replaceWhatCannotBeRepaired(),
                        choices.majorStandsDownFor(),
                        choices.daysByOutcome()));
        var judged = new ArrayList<JobAcceptance.OfDamage>();
        for (var damage : brief.damages()) {
            judge.accept(damage.id(), facts)
                    .ifPresent(acceptance -> judged.add(new JobAcceptance.OfDamage(
                            damage.id(),
                            damage.number(),
                            Objects.requireNonNullElseGet(byDamage.get(damage.id()), () -> nothing(damage.id())),
                            acceptance)));
        }
        return judged.stream()
                .map(each -> each.acceptance().answer().result())
                .max(Comparator.naturalOrder())
                .map(worst -> new JobAcceptance(at, by, worst, judged));
    }

    @Nullable
    JobAcceptance of(Job job) {
        return job.acceptance() == null ? null : json.readValue(job.acceptance(), JobAcceptance.class);
    }

    String written(JobAcceptance acceptance) {
        return json.writeValueAsString(acceptance);
    }

    /** A repair that was found not level or not clear is not good, whatever whoever closes it calls it. */
    void check(Job job, CloseJob command) {
        var acceptance = of(job);
        if (command.result() == Result.GOOD
                && acceptance != null
                && acceptance.damages().stream().anyMatch(each -> !each.found().looksGood())) {
            throw new Invalid("result", "The look over found it still to be seen, so it does not end as good");
        }
    }

    private static Map<UUID, FinishedRepair> byDamage(JobBrief brief, List<FinishedRepair> found) {
        for (var each : found) {
            if (brief.damages().stream().noneMatch(damage -> damage.id().equals(each.damage()))) {
                throw new Invalid("found", "One of these damages is not in the job");
            }
        }
        try {
            return found.stream().collect(Collectors.toMap(FinishedRepair::damage, Function.identity()));
        } catch (IllegalStateException e) {
            throw new Invalid("found", "Each damage is told of once");
        }
    }

    private static List<Sheet> sheets(JobBrief.Accepting accepting) {
        return accepting.sheets().stream().map(SheetCopy::read).toList();
    }

    private static VehicleFacts vehicle(JobBrief brief, JobBrief.Accepting accepting) {
        return new VehicleFacts(brief.category(), accepting.maximumMassKg());
    }

    private static FinishedRepair nothing(UUID damage) {
        return new FinishedRepair(damage, null, null, null, null, null, null, null, null, null, null, null, null, null);
    }

    /** What was seen before the repair says nothing of what is left, so a length that is read has to be given. */
    private static DamageFacts finished(
            JobBrief.BriefDamage damage,
            @Nullable FinishedRepair repair,
            FinishedAsks asks,
            String at,
            LocalDate day,
            ZoneId zone) {
        var found = repair == null ? nothing(damage.id()) : repair;
        if (asks.length() && found.lengthMm() == null) {
            throw new Invalid(at + "lengthMm", "Measure how much of it is left to be seen, 0 if nothing is");
        }
        if (asks.across() && found.acrossMm() == null) {
            throw new Invalid(at + "acrossMm", "Measure how far it is left to be seen across, 0 if nothing is");
        }
        if (found.pitMm() != null && found.acrossMm() != null && found.pitMm().compareTo(found.acrossMm()) > 0) {
            throw new Invalid(at + "pitMm", "The pit is part of what is left, so it is not larger");
        }
        var source = Objects.requireNonNullElse(found.source(), Seen.GAUGE);
        var shape = damage.shape();
        var measuredPlace = found.xMm() != null && found.yMm() != null;
        if (measuredPlace) {
            shape = moved(damage, found, shape);
        }
        var before = new Measured(
                damage.diameterMm().doubleValue(),
                damage.diameterStandardUncertaintyMm().doubleValue());
        return new DamageFacts(
                damage.id(),
                damage.id(),
                damage.kind(),
                shape,
                (measuredPlace ? source : damage.source()).positionStandardUncertaintyMm(),
                Objects.requireNonNullElse(measured(found.acrossMm(), found, source), before),
                measured(found.pitMm(), found, source),
                measured(found.lengthMm(), found, source),
                found.layers() == null ? damage.layers() : found.layers(),
                found.condition(),
                true,
                found.view(),
                day,
                damage.seenAt().atZone(zone).toLocalDate(),
                measured(found.acrossMm(), found, source),
                new DamageFacts.Finish(found.level(), found.clear()));
    }

    private static DamageShape moved(JobBrief.BriefDamage damage, FinishedRepair found, DamageShape shape) {
        return shape.moved(
                Objects.requireNonNull(found.xMm()).subtract(damage.xMm()).doubleValue(),
                Objects.requireNonNull(found.yMm()).subtract(damage.yMm()).doubleValue());
    }

    private static @Nullable Measured measured(@Nullable BigDecimal length, FinishedRepair found, Seen source) {
        if (length == null) {
            return null;
        }
        var mm = length.doubleValue();
        var given = found.standardUncertaintyMm();
        return new Measured(mm, given == null ? source.standardUncertaintyMm(mm) : given.doubleValue());
    }
}
