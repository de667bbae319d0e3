package org.quarterlight.eligibility;

import java.util.Collection;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.quarterlight.glass.DamageKind;

/**
 * What acceptance sheets read of a finished repair, so that nobody is asked for more.
 *
 * @param pit its finished pit
 * @param length what is left of a leg or a crack
 * @param across what is left to be seen, across
 * @param level whether it is level with the glass
 * @param clear whether it is clear from outside and from inside
 * @param place where it lies
 * @param others what else is on the glass
 */
public record FinishedAsks(
        boolean pit,
        boolean length,
        boolean across,
        boolean layers,
        boolean condition,
        boolean view,
        boolean level,
        boolean clear,
        boolean place,
        boolean others) {
    private static final Set<Quantity> OF_OTHERS = EnumSet.of(
            Quantity.COUNT,
            Quantity.EARLIER_REPAIRS,
            Quantity.DISTANCE_TO_OTHER_DAMAGE,
            Quantity.DISTANCE_TO_FINISHED_REPAIR);

    /** Of a repair of this kind; sheets that ask something else, or are not for the vehicle, ask nothing. */
    public static FinishedAsks of(Collection<Sheet> sheets, VehicleFacts vehicle, DamageKind kind) {
        var read = EnumSet.noneOf(Quantity.class);
        var rules = sheets.stream()
                .filter(sheet -> sheet.question() == Question.ACCEPTABLE && sheet.appliesTo(vehicle))
                .flatMap(sheet -> sheet.rules().stream())
                .filter(rule -> VehicleTest.anyHolds(rule.vehicles(), vehicle) && rule.speaksOf(kind))
                .toList();
        rules.stream()
                .flatMap(rule -> Stream.concat(
                        Stream.of(rule.quantity()),
                        rule.counted().stream()
                                .map(Rule.Counted::tests)
                                .flatMap(List::stream)
                                .map(Rule::quantity)))
                .forEach(read::add);
        var others =
                rules.stream().anyMatch(rule -> OF_OTHERS.contains(rule.quantity()) || rule.togetherWithinMm() != null);
        return new FinishedAsks(
                read.contains(Quantity.PIT_DIAMETER),
                read.contains(Quantity.LONGEST_LEG)
                        || read.contains(Quantity.CRACK_LENGTH)
                        || read.contains(Quantity.LENGTH_IN_ZONE),
                read.contains(Quantity.OVERALL_DIAMETER) || read.contains(Quantity.BODY_DIAMETER),
                read.contains(Quantity.LAYERS),
                read.contains(Quantity.CONDITION),
                read.contains(Quantity.VIEW),
                read.contains(Quantity.LEVEL),
                read.contains(Quantity.CLEAR),
                others
                        || rules.stream().anyMatch(rule -> rule.where() != null)
                        || read.stream().anyMatch(Quantity::isDistance)
                        || read.contains(Quantity.ENDS_AT_EDGE),
                others);
    }

    /** Whether a length is asked for, so that it matters how it was measured. */
    public boolean anyLength() {
        return pit || length || across || place;
    }
}
