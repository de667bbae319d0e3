package org.quarterlight.repair;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.Organisations;
import org.quarterlight.damage.ClosedAs;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.DamageView;
import org.quarterlight.damage.JobFacts;
import org.quarterlight.eligibility.Eligibility;
import org.quarterlight.eligibility.FinishedAsks;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.SheetCopy;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.Glazing;
import org.quarterlight.rulebook.Rulebook;
import org.springframework.stereotype.Component;

/** Writes down for a job what its performer may not look up. */
@Component
class Briefs {
    private final JobFacts damages;
    private final Fleet fleet;
    private final Rulebook rulebook;
    private final Organisations organisations;
    private final DamageReporting reporting;

    Briefs(JobFacts damages, Fleet fleet, Rulebook rulebook, Organisations organisations, DamageReporting reporting) {
        this.damages = damages;
        this.reporting = reporting;
        this.fleet = fleet;
        this.rulebook = rulebook;
        this.organisations = organisations;
    }

    /** A brief, with what lists repeat of it. */
    record Written(JobBrief brief, Glazing glazing, LocalDate actBy) {}

    /** Of damages on one windscreen. */
    Written about(Work work, UUID windscreen, List<DamageView> chosen) {
        var glazing = fleet.glazingOfWindscreen(windscreen);
        var sheets = rulebook.sheetsFor(
                glazing.facts().vehicle(),
                glazing.depot().country(),
                glazing.depot().subdivision());
        var zone = Eligibility.driversZoneWidthMm(glazing.facts(), sheets);
        var photos = damages.photosOf(chosen.stream().map(DamageView::id).toList());
        var brief = new JobBrief(
                organisations.present().name(),
                glazing.vehicle().registration(),
                glazing.vehicle().vin(),
                glazing.vehicle().words(),
                glazing.vehicle().category(),
                glazing.pattern().measurements(),
                glazing.genericGlass(),
                zone.isPresent() ? zone.getAsDouble() : null,
                chosen.stream()
                        .sorted(Comparator.comparingInt(DamageView::number))
                        .map(damage -> damage(damage, photos.getOrDefault(damage.id(), List.of())))
                        .toList(),
                sheets.stream().map(Sheet::reference).toList(),
                place(glazing),
                work == Work.REPAIR ? accepting(glazing, chosen) : null);
        return new Written(
                brief,
                glazing,
                chosen.stream()
                        .map(DamageView::actBy)
                        .min(Comparator.naturalOrder())
                        .orElseThrow());
    }

    /** Null where the fleet's rules have no sheet for finished repairs on such a vehicle. */
    private JobBrief.@Nullable Accepting accepting(Glazing glazing, List<DamageView> chosen) {
        var vehicle = glazing.facts().vehicle();
        var copies = rulebook.acceptanceFor(
                vehicle, glazing.depot().country(), glazing.depot().subdivision());
        if (copies.isEmpty()) {
            return null;
        }
        var sheets = copies.stream().map(SheetCopy::read).toList();
        var ids = chosen.stream().map(DamageView::id).toList();
        var readsOthers = chosen.stream()
                .anyMatch(damage ->
                        FinishedAsks.of(sheets, vehicle, damage.kind()).others());
        return new JobBrief.Accepting(
                copies,
                rulebook.choices().acceptedRiskForRepair(),
                glazing.facts().reference(),
                vehicle.maximumMassKg(),
                readsOthers
                        ? reporting.onGlass(glazing.windscreen()).stream()
                                .filter(damage -> !ids.contains(damage.id()))
                                .map(Briefs::other)
                                .toList()
                        : List.of());
    }

    private static JobBrief.OnGlass other(DamageView damage) {
        var seen = damage.observation();
        return new JobBrief.OnGlass(
                damage.id(),
                damage.kind(),
                seen.xMm(),
                seen.yMm(),
                seen.toXMm(),
                seen.toYMm(),
                seen.diameterMm(),
                seen.diameterStandardUncertaintyMm(),
                seen.pitMm(),
                seen.source(),
                seen.seenAt(),
                damage.closedAs() == ClosedAs.REPAIRED,
                seen.course(),
                seen.legs(),
                seen.bodyMm());
    }

    private static JobBrief.BriefDamage damage(DamageView damage, List<String> photos) {
        var seen = damage.observation();
        return new JobBrief.BriefDamage(
                damage.id(),
                damage.number(),
                damage.kind(),
                seen.xMm(),
                seen.yMm(),
                seen.toXMm(),
                seen.toYMm(),
                seen.diameterMm(),
                seen.diameterStandardUncertaintyMm(),
                seen.pitMm(),
                seen.longestLegMm(),
                seen.layers(),
                seen.condition(),
                seen.source(),
                seen.seenAt(),
                damage.verdict().outcome(),
                damage.verdict().sentence(),
                photos,
                seen.course(),
                seen.legs(),
                seen.bodyMm(),
                damage.verdict().decisive());
    }

    private static JobBrief.Place place(Glazing glazing) {
        var depot = glazing.depot();
        return new JobBrief.Place(
                depot.id(),
                depot.name(),
                depot.address(),
                depot.latitude(),
                depot.longitude(),
                depot.zone(),
                depot.country(),
                depot.openingHours().days().entrySet().stream()
                        .collect(Collectors.toMap(
                                java.util.Map.Entry::getKey,
                                day -> new JobBrief.Hours(
                                        day.getValue().opens(), day.getValue().closes()))),
                depot.coveredBays(),
                depot.contact());
    }
}
