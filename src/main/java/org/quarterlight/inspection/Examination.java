package org.quarterlight.inspection;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.DamageState;
import org.quarterlight.damage.DamageView;
import org.quarterlight.damage.ObserveDamage;
import org.quarterlight.damage.ReportDamage;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.FitWindscreen;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.Glazing;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.Words;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Turns what an inspector says into observations, reports and endings of damages, and writes the inspection down. */
@Component
class Examination {
    /** An inspection of one vehicle takes less. Ours. */
    private static final Duration TOLD_WITHIN = Duration.ofHours(2);

    private final JdbcClient jdbc;
    private final Fleet fleet;
    private final DamageReporting damages;
    private final Rulebook rulebook;
    private final Odometers odometers;
    private final DueDates dueDates;
    private final History history;
    private final Clock clock;

    Examination(
            JdbcClient jdbc,
            Fleet fleet,
            DamageReporting damages,
            Rulebook rulebook,
            Odometers odometers,
            DueDates dueDates,
            History history,
            Clock clock) {
        this.jdbc = jdbc;
        this.fleet = fleet;
        this.damages = damages;
        this.rulebook = rulebook;
        this.odometers = odometers;
        this.dueDates = dueDates;
        this.history = history;
        this.clock = clock;
    }

    /** All that is open on this glass and was reported by then. */
    static List<DamageView> toAnswer(List<DamageView> onGlass) {
        return onGlass.stream()
                .filter(damage -> damage.state() != DamageState.CLOSED)
                .toList();
    }

    void record(UUID inspection, Glazing glazing, RecordInspection command, Instant at) {
        if (glazing.vehicle().retired()) {
            throw new Invalid("vehicle", glazing.vehicle().registration() + " has left the fleet");
        }
        var onGlass = damages.onGlass(glazing.windscreen());
        var answers = answers(command, onGlass);
        var findings = new ArrayList<InspectionFinding>();
        var replaced = answers.values().stream().anyMatch(each -> each.goneAs() == GoneAs.REPLACED);
        for (var damage : toAnswer(onGlass)) {
            var answer = answers.remove(damage.id());
            if (answer == null && damage.occurredAt().isAfter(at)) {
                continue;
            }
            if (answer == null && Boolean.TRUE.equals(command.restUnchanged())) {
                answer = new SeenAgain(damage.id(), InspectionAnswer.CONFIRMED, null, null, null, null, null);
            }
            if (answer == null) {
                throw new Invalid(
                        "damages", "Say of damage " + damage.number() + " whether it is unchanged, changed or gone");
            }
            if (replaced && answer.goneAs() != GoneAs.REPLACED) {
                throw new Invalid(
                        "damages", "Where the glass is replaced, damage " + damage.number() + " is gone with it");
            }
            findings.add(answered(damage, answer, command.source(), at));
        }
        // What has been closed since a device saw it: the answer is kept, and nothing is left to observe.
        for (var damage : onGlass) {
            var answer = answers.get(damage.id());
            if (answer != null) {
                if (answer.answer() == InspectionAnswer.FAILED) {
                    damages.foundFailed(damage.id(), at, failure(answer));
                }
                findings.add(finding(damage, answer, answer.found()));
            }
        }
        var windscreen = glazing.windscreen();
        if (replaced) {
            var day = at.atZone(glazing.depot().zone()).toLocalDate();
            windscreen = fleet.fitted(
                            glazing.vehicle().id(),
                            new FitWindscreen(null, null, day, null, GoneAs.REPLACED.words()),
                            at)
                    .id();
        }
        for (var found : Objects.requireNonNullElse(command.found(), List.<FoundNew>of())) {
            var damage =
                    damages.report(new ReportDamage(glazing.vehicle().id(), found.kind(), at, found.observation()));
            findings.add(new InspectionFinding(
                    damage.id(),
                    damage.number(),
                    InspectionAnswer.NEW,
                    null,
                    "",
                    found.observation().found()));
        }
        var worst = findings.stream()
                .map(InspectionFinding::found)
                .filter(Objects::nonNull)
                .max(Grade::compareTo)
                .orElse(Grade.NONE);
        var grade = command.grade().compareTo(worst) < 0 ? worst : command.grade();
        standDown(glazing, grade, at);
        write(inspection, glazing, command, windscreen, grade, at, findings);
    }

    private Map<UUID, SeenAgain> answers(RecordInspection command, List<DamageView> onGlass) {
        var answers = new HashMap<UUID, SeenAgain>();
        for (var answer : Objects.requireNonNullElse(command.damages(), List.<SeenAgain>of())) {
            if (onGlass.stream().noneMatch(damage -> damage.id().equals(answer.damage()))) {
                throw new Invalid("damages", "There is no damage " + answer.damage() + " on this glass");
            }
            if (answers.put(answer.damage(), answer) != null) {
                throw new Invalid("damages", "Damage " + answer.damage() + " is spoken of twice");
            }
            if ((answer.answer() == InspectionAnswer.GONE) != (answer.goneAs() != null)) {
                throw new Invalid("damages", "Say of a damage that is gone, and of no other, why it is");
            }
        }
        return answers;
    }

    private InspectionFinding answered(DamageView damage, SeenAgain answer, @Nullable Seen source, Instant at) {
        var found = answer.found();
        switch (answer.answer()) {
            case CONFIRMED -> {
                var seen = unchanged(damage, source, found);
                found = seen.found();
                damages.observe(damage.id(), new ObserveDamage(null, at, seen));
            }
            case CHANGED -> {
                var seen = answer.observation();
                if (seen == null) {
                    found = toldMeanwhile(damage, at);
                    break;
                }
                found = seen.found();
                damages.observe(damage.id(), new ObserveDamage(answer.kind(), at, seen));
            }
            case GONE -> {
                var how = Objects.requireNonNull(answer.goneAs());
                damages.foundGone(damage.id(), how.closedAs(), at, reason(answer, how));
            }
            case NEW -> found = damage.observation().found();
            case FAILED ->
                throw new Invalid(
                        "damages",
                        "Damage " + damage.number() + " is not repaired, so no repair of it can have failed");
        }
        return finding(damage, answer, found);
    }

    /** What was seen of it was told by itself, with a drawing, while the inspector stood before the glass. */
    private static @Nullable Grade toldMeanwhile(DamageView damage, Instant at) {
        var newest = damage.observation();
        if (newest.seenAt().isBefore(at.minus(TOLD_WITHIN)) || newest.seenAt().isAfter(at.plus(TOLD_WITHIN))) {
            throw new Invalid("damages", "Say of changed damage " + damage.number() + " what was seen of it");
        }
        return newest.found();
    }

    /** The lengths are those measured before, and so is how sure they are; a grade that was found stays. */
    private static SeenDamage unchanged(DamageView damage, @Nullable Seen source, @Nullable Grade found) {
        var before = damage.observation();
        return new SeenDamage(
                before.xMm(),
                before.yMm(),
                before.toXMm(),
                before.toYMm(),
                before.diameterMm(),
                before.diameterStandardUncertaintyMm(),
                before.pitMm(),
                before.longestLegMm(),
                before.layers(),
                before.condition(),
                source == null ? before.source() : source,
                found == null ? before.found() : found,
                "Seen, unchanged",
                before.course(),
                before.legs(),
                before.bodyMm(),
                before.arisenOn());
    }

    private static InspectionFinding finding(DamageView damage, SeenAgain answer, @Nullable Grade found) {
        return new InspectionFinding(
                damage.id(),
                damage.number(),
                answer.answer(),
                answer.goneAs(),
                answer.answer() == InspectionAnswer.FAILED
                        ? failure(answer)
                        : answer.goneAs() == null ? "" : reason(answer, answer.goneAs()),
                answer.answer() == InspectionAnswer.GONE ? null : found);
    }

    private static String failure(SeenAgain answer) {
        return answer.reason() == null || answer.reason().isBlank()
                ? "found failed at an inspection"
                : answer.reason().trim();
    }

    private static String reason(SeenAgain answer, GoneAs how) {
        return answer.reason() == null || answer.reason().isBlank()
                ? how.words()
                : answer.reason().trim();
    }

    /** What was found of a damage stands the vehicle down by its verdict; the view through the whole glass does here. */
    private void standDown(Glazing glazing, Grade grade, Instant at) {
        var vehicle = glazing.vehicle();
        if (grade == Grade.DANGEROUS
                || grade == Grade.MAJOR
                        && rulebook.choices().majorStandsDownFor().contains(vehicle.category())) {
            fleet.standDown(
                    vehicle.id(), "Inspection: the view through the glass is graded " + Words.spoken(grade), at);
        }
    }

    private void write(
            UUID inspection,
            Glazing glazing,
            RecordInspection command,
            UUID windscreen,
            Grade grade,
            Instant at,
            List<InspectionFinding> findings) {
        var acting = Acting.require();
        var organisation = Tenants.require().value();
        var day = at.atZone(glazing.depot().zone()).toLocalDate();
        jdbc.sql("""
            update inspection set done_at = :at, done_on = :day, arrived_at = :now, inspector_id = :person,
                inspector = :name, windscreen_id = :windscreen, grade = :grade, odometer_km = :km, note = :note,
                version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("at", at.atOffset(ZoneOffset.UTC))
                .param("day", day)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("person", acting.person())
                .param("name", acting.name())
                .param("windscreen", windscreen)
                .param("grade", grade.name())
                .param("km", command.odometerKm())
                .param("note", Objects.requireNonNullElse(command.note(), "").trim())
                .param("organisation", organisation)
                .param("id", inspection)
                .update();
        for (var finding : findings) {
            jdbc.sql("""
                insert into inspection_finding (tenant_id, inspection_id, damage_id, number, answer, gone_as, reason, found)
                values (:organisation, :inspection, :damage, :number, :answer, :goneAs, :reason, :found)\
                """)
                    .param("organisation", organisation)
                    .param("inspection", inspection)
                    .param("damage", finding.damage())
                    .param("number", finding.number())
                    .param("answer", finding.answer().name())
                    .param(
                            "goneAs",
                            finding.goneAs() == null ? null : finding.goneAs().name())
                    .param("reason", finding.reason())
                    .param(
                            "found",
                            finding.found() == null ? null : finding.found().name())
                    .update();
        }
        if (command.odometerKm() != null) {
            odometers.keep(glazing.vehicle().id(), day, command.odometerKm());
        }
        dueDates.of(glazing.vehicle().id());
        history.add(
                "inspected",
                "vehicle",
                glazing.vehicle().id(),
                glazing.vehicle().registration() + ", view: " + Words.spoken(grade));
    }
}
