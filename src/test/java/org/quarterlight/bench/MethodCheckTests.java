package org.quarterlight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.quarterlight.bench.Departure.What;

class MethodCheckTests {
    private static final Instant START = Instant.parse("2026-03-20T09:00:00Z");
    /** Common practice, no source: a minute or two between pressure and vacuum. */
    private static final Duration REST = Duration.ofMinutes(1);

    private static final String WHOLE =
            "prepare 4 open 1 clean 2 mount 1 inject 2 pressure 5 vacuum 3 pit-fill 1 cure 10 finish 2 look-over 1";

    private static List<DonePhase> record(String text) {
        var phases = new ArrayList<DonePhase>();
        var words = text.split(" ");
        var at = START;
        for (int i = 0; i + 1 < words.length; i += 2) {
            if (i > 0 && Set.of("pressure vacuum", "vacuum pressure").contains(words[i - 2] + " " + words[i])) {
                at = at.plus(REST);
            }
            var end = at.plus(Duration.ofSeconds((long) (60 * Double.parseDouble(words[i + 1]))));
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
                        "It rested 1 min between pressure and vacuum; the method asks for 2 min.",
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
        assertThat(MethodCheck.goesBack(Method.GENERIC, List.of(), PhaseKind.CURE))
                .isFalse();
        assertThat(MethodCheck.goesBack(Method.GENERIC, record("vacuum 2"), PhaseKind.PRESSURE))
                .isFalse();
        assertThat(MethodCheck.goesBack(Method.GENERIC, record("cure 2"), PhaseKind.CURE))
                .isFalse();
        assertThat(MethodCheck.goesBack(Method.GENERIC, record("cure 2"), PhaseKind.INJECT))
                .isTrue();
    }

    private static final Method TWICE_CURED = new Method(
            "Twice under the lamp",
            "thin",
            "data sheet",
            false,
            new Method.Limits(null, null, null),
            null,
            1,
            60,
            false,
            List.of(
                    new Method.Step(PhaseKind.CLEAN, true, 0, null),
                    new Method.Step(PhaseKind.INJECT, true, 0, null),
                    new Method.Step(PhaseKind.PRESSURE, true, 120, null),
                    new Method.Step(PhaseKind.VACUUM, true, 120, null),
                    new Method.Step(PhaseKind.CURE, true, 120, null),
                    new Method.Step(PhaseKind.PIT_FILL, true, 0, null),
                    new Method.Step(PhaseKind.CURE, true, 600, null),
                    new Method.Step(PhaseKind.FINISH, true, 0, null)));
    private static final String WHOLE_TWICE = "clean 1 inject 1 pressure 2 vacuum 2 cure 2 pit-fill 1 cure 10 finish 1";

    @Test
    void aSheetThatCuresBeforeAndAfterThePitIsFollowedToItsEnd() {
        var done = new ArrayList<DonePhase>();
        var place = 0;
        for (var phase : record(WHOLE_TWICE)) {
            assertThat(MethodCheck.nextPlace(TWICE_CURED, done)).contains(place);
            assertThat(MethodCheck.place(TWICE_CURED, done, phase.kind())).isEqualTo(place);
            assertThat(MethodCheck.goesBack(TWICE_CURED, done, phase.kind())).isFalse();
            done.add(phase);
            place++;
        }
        assertThat(MethodCheck.next(TWICE_CURED, done)).isEmpty();
        assertThat(MethodCheck.departures(TWICE_CURED, done)).isEmpty();
        assertThat(MethodCheck.places(TWICE_CURED, done)).containsExactly(0, 1, 2, 3, 4, 5, 6, 7);
    }

    @Test
    void eachOfTwoCuresIsMissedAndMeasuredByItself() {
        assertThat(MethodCheck.departures(TWICE_CURED, record(WHOLE_TWICE.replace(" cure 2", ""))))
                .extracting(Departure::sentence)
                .containsExactly("There is no cure before pit fill in the record.");
        assertThat(MethodCheck.departures(TWICE_CURED, record(WHOLE_TWICE.replace("cure 2", "cure 1"))))
                .extracting(Departure::sentence)
                .containsExactly("It was cured for 1 min before pit fill; the method asks for at least 2 min.");
        assertThat(MethodCheck.departures(TWICE_CURED, record(WHOLE_TWICE.replace("cure 10", "cure 9"))))
                .extracting(Departure::sentence)
                .containsExactly("It was cured for 9 min before finish; the method asks for at least 10 min.");
        assertThat(whats(TWICE_CURED, record("clean 1 inject 1 pressure 2 vacuum 2 cure 2 pit-fill 1")))
                .contains(What.MISSING, What.CURE);
    }

    @Test
    void workThatGoesBackStandsAtTheNearestPlaceAndGoesOnFromThere() {
        var again = record(WHOLE_TWICE + " pit-fill 1");
        assertThat(MethodCheck.next(TWICE_CURED, again)).contains(PhaseKind.CURE);
        assertThat(MethodCheck.places(TWICE_CURED, again)).endsWith(5);
        // From the beginning, the cure that comes next is the first one.
        assertThat(MethodCheck.places(TWICE_CURED, record("clean 1 inject 1 pressure 2 vacuum 2 cure 1 cure 1")))
                .endsWith(4, 4);
        assertThat(MethodCheck.departures(
                        TWICE_CURED,
                        record("clean 1 inject 1 pressure 2 vacuum 2 cure 1 cure 1 pit-fill 1 cure 10 finish 1")))
                .isEmpty();
    }

    @Test
    void whatWasTooShortIsDoneAgainAndIsMendedByThat() {
        var untilPressure = "prepare 1 clean 1 mount 1 inject 1 pressure 1.5";
        assertThat(MethodCheck.next(Method.GENERIC, record(untilPressure))).contains(PhaseKind.PRESSURE);
        assertThat(MethodCheck.shortfall(Method.GENERIC, record(untilPressure))).hasValueSatisfying(lacks -> {
            assertThat(lacks.missing()).isEqualTo(Duration.ofSeconds(30));
            assertThat(lacks.addsUp()).isFalse();
        });
        var mended = untilPressure + " pressure 2 vacuum 2 pit-fill 1 cure 10 finish 1 look-over 1";
        assertThat(MethodCheck.departures(Method.GENERIC, record(mended))).isEmpty();
        assertThat(MethodCheck.shortfall(Method.GENERIC, record("inject 1 cure 8.1666")))
                .hasValueSatisfying(lacks -> {
                    assertThat(lacks.addsUp()).isTrue();
                    assertThat(lacks.missing()).isBetween(Duration.ofSeconds(110), Duration.ofSeconds(111));
                });
        assertThat(MethodCheck.shortfall(Method.GENERIC, record("inject 1 cure 8 cure 2")))
                .isEmpty();
    }

    @Test
    void airThatIsStillSeenAsksForPressureOnceMore() {
        var done = new ArrayList<>(record("prepare 1 clean 1 mount 1 inject 1 pressure 2 vacuum 2"));
        var last = done.removeLast();
        done.add(new DonePhase(last.kind(), last.startedAt(), last.endedAt(), null, false));
        assertThat(MethodCheck.next(Method.GENERIC, done)).contains(PhaseKind.PRESSURE);
        assertThat(MethodCheck.departures(Method.GENERIC, done))
                .extracting(Departure::sentence)
                .contains("The last vacuum left air in the break. Press and draw once more.");
        done.set(done.size() - 1, new DonePhase(last.kind(), last.startedAt(), last.endedAt(), null, true));
        assertThat(MethodCheck.next(Method.GENERIC, done)).contains(PhaseKind.PIT_FILL);
    }

    @Test
    void aTurnWithoutRestIsMendedByOneWithRest() {
        var hasty = record(WHOLE).stream()
                .map(phase -> phase.kind() == PhaseKind.PRESSURE
                        ? new DonePhase(
                                phase.kind(),
                                phase.startedAt(),
                                Objects.requireNonNull(phase.endedAt()).plus(REST),
                                null)
                        : phase)
                .toList();
        assertThat(MethodCheck.departures(Method.GENERIC, hasty))
                .extracting(Departure::sentence)
                .containsExactly("It rested 0 min between pressure and vacuum; the method asks for 1 min.");
        assertThat(MethodCheck.next(Method.GENERIC, hasty.subList(0, 7))).contains(PhaseKind.PRESSURE);
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
