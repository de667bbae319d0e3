package org.quarterlight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.quarterlight.bench.Departure.What;

class MethodCheckTests {
    private static final Instant START = Instant.parse("2026-03-20T09:00:00Z");
    private static final String WHOLE =
            "prepare 4 open 1 clean 2 mount 1 inject 2 pressure 5 vacuum 3 pit-fill 1 cure 10 finish 2 look-over 1";

    private static List<DonePhase> record(String text) {
        var phases = new ArrayList<DonePhase>();
        var words = text.split(" ");
        var at = START;
        for (int i = 0; i + 1 < words.length; i += 2) {
            var end = at.plus(Duration.ofMinutes(Long.parseLong(words[i + 1])));
            phases.add(new DonePhase(
                    PhaseKind.valueOf(
                            words[i].toUpperCase(java.util.Locale.ROOT).replace('-', '_')),
                    at,
                    end,
                    null));
            at = end;
        }
        return phases;
    }

    private static List<What> whats(Method method, List<DonePhase> done) {
        return MethodCheck.departures(method, done).stream()
                .map(Departure::what)
                .toList();
    }

    @Test
    void aWholeRecordFollowsTheMethod() {
        assertThat(MethodCheck.departures(Method.GENERIC, record(WHOLE))).isEmpty();
    }

    @Test
    void openingMayBeLeftOutAndSecondBreaksMayFollow() {
        assertThat(MethodCheck.departures(
                        Method.GENERIC,
                        record("prepare 4 clean 2 mount 1 inject 2 pressure 5 vacuum 3 pit-fill 1 open 1 clean 1"
                                + " mount 1 inject 2 pressure 3 vacuum 3 pressure 2 vacuum 2 pit-fill 1 cure 6"
                                + " cure 4 finish 2 look-over 1")))
                .isEmpty();
    }

    @ParameterizedTest
    @EnumSource
    void everyRequiredPhaseIsMissed(PhaseKind left) {
        var done = record(WHOLE).stream().filter(phase -> phase.kind() != left).toList();
        var missed = MethodCheck.departures(Method.GENERIC, done);

        if (left == PhaseKind.OPEN) {
            assertThat(missed).isEmpty();
        } else {
            assertThat(missed).anySatisfy(departure -> {
                assertThat(departure.what()).isEqualTo(What.MISSING);
                assertThat(departure.phase()).isEqualTo(left);
            });
        }
    }

    @Test
    void whatIsDoneTooEarlyIsNamed() {
        assertThat(whats(
                        Method.GENERIC,
                        record("prepare 4 mount 1 clean 2 inject 2 pressure 5 vacuum 3 pit-fill 1 cure 10 finish 2"
                                + " look-over 1")))
                .containsExactly(What.ORDER);
    }

    @Test
    void resinThatCameAfterTheLampIsNotCured() {
        var departures = MethodCheck.departures(Method.GENERIC, record(WHOLE + " inject 2 cure 9 look-over 1"));

        assertThat(departures).singleElement().satisfies(departure -> {
            assertThat(departure.what()).isEqualTo(What.CURE);
            assertThat(departure.sentence())
                    .isEqualTo("It was cured for 9 min; the method asks for at least 10 min (common practice).");
        });
        assertThat(whats(Method.GENERIC, record(WHOLE + " inject 2 cure 10"))).containsExactly(What.ORDER);
    }

    @Test
    void theTimeWorkedOutForTheLampCounts() {
        var done = new ArrayList<>(record(WHOLE));
        var cure = done.get(8);
        done.set(8, new DonePhase(cure.kind(), cure.startedAt(), cure.endedAt(), 700));
        assertThat(whats(Method.GENERIC, done)).containsExactly(What.CURE);
        // Less than the method's least time is never enough.
        done.set(8, new DonePhase(cure.kind(), cure.startedAt(), cure.endedAt(), 30));
        assertThat(whats(Method.GENERIC, done)).isEmpty();
    }

    @Test
    void timesCyclesAndRestAreComparedWithTheMethod() {
        var strict = new Method(
                "Strict",
                "thin",
                "data sheet",
                false,
                new Method.Limits(null, null, null),
                null,
                2,
                120,
                false,
                Method.GENERIC.steps().stream()
                        .map(step -> step.kind() == PhaseKind.INJECT
                                ? new Method.Step(PhaseKind.INJECT, true, 60, 90)
                                : step)
                        .toList());
        assertThat(MethodCheck.departures(strict, record(WHOLE)))
                .extracting(Departure::sentence)
                .containsExactly(
                        "Inject took 2 min; the method allows 1 min 30 s.",
                        "It rested 0 min between pressure and vacuum; the method asks for 2 min.",
                        "Pressure and vacuum alternated once; the method asks for 2 times.");
        assertThat(whats(Method.GENERIC, record(WHOLE.replace("vacuum 3", "vacuum 1"))))
                .containsExactly(What.TIME);
    }

    @Test
    void aRunningClockAndAnOverlapAreNamed() {
        var done = new ArrayList<>(record(WHOLE));
        var last = done.removeLast();
        done.add(new DonePhase(last.kind(), last.startedAt().minusSeconds(30), null, null));

        assertThat(whats(Method.GENERIC, done)).containsExactlyInAnyOrder(What.RUNNING, What.ORDER);
    }

    @Test
    void goingBackIsEarlierInTheOrderButForAnotherCycle() {
        assertThat(Method.GENERIC.goesBack(null, PhaseKind.CURE)).isFalse();
        assertThat(Method.GENERIC.goesBack(PhaseKind.VACUUM, PhaseKind.PRESSURE))
                .isFalse();
        assertThat(Method.GENERIC.goesBack(PhaseKind.CURE, PhaseKind.CURE)).isFalse();
        assertThat(Method.GENERIC.goesBack(PhaseKind.CURE, PhaseKind.INJECT)).isTrue();
    }

    @Test
    void theNextPhaseFollowsTheMethodUntilItIsWhole() {
        var done = new ArrayList<DonePhase>();
        for (var phase : record(WHOLE)) {
            assertThat(MethodCheck.next(Method.GENERIC, done)).contains(phase.kind());
            done.add(phase);
        }
        assertThat(MethodCheck.next(Method.GENERIC, done)).isEmpty();
        assertThat(MethodCheck.next(Method.GENERIC, record(WHOLE.replace(" cure 10 finish 2 look-over 1", " cure 9"))))
                .contains(PhaseKind.CURE);
    }
}
