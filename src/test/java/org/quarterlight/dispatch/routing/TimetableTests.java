package org.quarterlight.dispatch.routing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class TimetableTests {
    private static final ZoneId ZONE = ZoneId.of("Europe/London");
    private static final LocalDate DAY = LocalDate.of(2026, 11, 25);
    private static final Place BASE = new Place(52.7, -1.2);

    /** A quarter of a great circle is π/2 times the radius, elementary geometry. */
    @Test
    void aQuarterOfTheEarthIsAQuarterOfItsCircle() {
        assertThat(Travel.greatCircleKm(new Place(0, 0), new Place(0, 90)))
                .isCloseTo(Math.PI / 2 * Travel.EARTH_RADIUS_KM, within(1e-9));
        assertThat(Travel.greatCircleKm(new Place(0, 0), new Place(90, 0)))
                .isCloseTo(Math.PI / 2 * Travel.EARTH_RADIUS_KM, within(1e-9));
    }

    /** One minute of arc along a meridian of the sphere: the old sea mile, 1.853 km on this radius. */
    @Test
    void aMinuteOfArcIsASeaMile() {
        assertThat(Travel.greatCircleKm(new Place(52, -1), new Place(52 + 1 / 60.0, -1)))
                .isCloseTo(Travel.EARTH_RADIUS_KM * Math.toRadians(1 / 60.0), within(1e-9))
                .isCloseTo(1.853, within(0.001));
    }

    @Test
    void roadsAreLongerAndTakeTheirTime() {
        var travel = Travel.between(new Place(52, -1), new Place(52.5, -1));
        var straight = Travel.greatCircleKm(new Place(52, -1), new Place(52.5, -1));

        assertThat(travel.km()).isCloseTo(1.3 * straight, within(1e-9));
        assertThat(travel.time().toSeconds()).isCloseTo(Math.round(travel.km() / 50 * 3600), within(1L));
    }

    @Test
    void waitsAtAGateThatOpensLater() {
        var table = table(stop(LocalTime.of(9, 0), LocalTime.of(17, 0), 45));

        var visit = table.visits().getFirst();
        assertThat(visit.arrives().toLocalTime()).isBefore(LocalTime.of(9, 0));
        assertThat(visit.begins().toLocalTime()).isEqualTo(LocalTime.of(9, 0));
        assertThat(visit.ends().toLocalTime()).isEqualTo(LocalTime.of(9, 45));
        assertThat(visit.gate()).isEqualTo(Timetable.Gate.OPEN);
        assertThat(table.overrunsShift()).isFalse();
    }

    @Test
    void saysWhichGateIsClosed() {
        assertThat(gate(stop(null, null, 45))).isEqualTo(Timetable.Gate.CLOSED_THAT_DAY);
        assertThat(gate(stop(LocalTime.of(5, 0), LocalTime.of(7, 0), 45))).isEqualTo(Timetable.Gate.CLOSED_BY_THEN);
        assertThat(gate(stop(LocalTime.of(5, 0), LocalTime.of(9, 0), 120)))
                .isEqualTo(Timetable.Gate.CLOSES_DURING_WORK);
    }

    @Test
    void saysThatTheShiftIsTooShort() {
        var long1 = stop(LocalTime.of(0, 1), LocalTime.of(23, 0), 300);
        var long2 = stop(LocalTime.of(0, 1), LocalTime.of(23, 0), 300);

        assertThat(table(long1, long2).overrunsShift()).isTrue();
    }

    /** The way to a stop is 20 km at 50 km an hour and 1.3 times as long: 31.2 min, by arithmetic. */
    @Test
    void theRestOfTheDayShiftsByWhatCameBefore() {
        var first = at(20, 60, actual("08:40", "10:10"));
        var second = at(20, 45, null);

        var plan = plan(first, second).visits();
        var present = asOf("10:20", first, second).visits();

        assertThat(plan.get(0).begins().toLocalTime()).isEqualTo("08:31:12");
        assertThat(plan.get(1).begins().toLocalTime()).isEqualTo("09:31:12");
        // Beside the first, so it could have begun when that ended; at 10:20 it has not.
        assertThat(present.get(1).begins().toLocalTime()).isEqualTo("10:20");
        assertThat(present.get(1).ends().toLocalTime()).isEqualTo("11:05");
        // Planned to end at 10:16:12.
        assertThat(present.get(1).lateAgainst(plan.get(1)))
                .isEqualTo(Duration.ofMinutes(48).plusSeconds(48));
        assertThat(asOf("10:05", first, second).visits().get(1).begins().toLocalTime())
                .isEqualTo("10:10");
    }

    @Test
    void workUnderWayLastsAsPlannedAndAtLeastUntilNow() {
        var stop = at(20, 60, actual("08:40", null));

        assertThat(asOf("09:00", stop).visits().getFirst().ends().toLocalTime()).isEqualTo("09:40");
        assertThat(asOf("09:55", stop).visits().getFirst().ends().toLocalTime()).isEqualTo("09:55");
    }

    @Test
    void whatWasBegunComesFirstInItsOwnOrder() {
        var one = at(20, 45, null);
        var two = at(20, 45, actual("10:00", "10:45"));
        var three = at(20, 45, actual("08:35", "09:20"));

        assertThat(asOf("11:00", one, two, three).visits().stream().map(Timetable.Visit::job))
                .containsExactly(three.job(), two.job(), one.job());
    }

    @Test
    void aVanThatCameEarlierThanEstimatedSetOutEarlier() {
        var early = asOf("08:30", at(20, 60, actual("08:10", null)));

        assertThat(early.visits().getFirst().departs().toLocalTime()).isEqualTo("07:38:48");
        assertThat(early.visits().getFirst().waits()).isZero();
        assertThat(early.leaves().toLocalTime()).isEqualTo("07:38:48");
    }

    @Test
    void aVanThatSetsOutInTimeWaitsAtTheGateUntilWorkBegins() {
        var visit = asOf("09:30", at(20, 60, actual("09:00", null))).visits().getFirst();

        assertThat(visit.arrives().toLocalTime()).isEqualTo("08:31:12");
        assertThat(visit.waits()).isEqualTo(Duration.ofMinutes(28).plusSeconds(48));
    }

    @Test
    void aGateThatWasOpenWhenItWasPlannedMayBeClosedNow() {
        var first = at(20, 60, actual("08:40", "11:30"));
        var second = new Timetable.Stop(
                UUID.randomUUID(), away(20), ZONE, LocalTime.of(6, 0), LocalTime.of(11, 45), Duration.ofMinutes(45));

        assertThat(plan(first, second).visits().get(1).gate()).isEqualTo(Timetable.Gate.OPEN);
        assertThat(asOf("11:30", first, second).visits().get(1).gate()).isEqualTo(Timetable.Gate.CLOSES_DURING_WORK);
        assertThat(asOf("11:45", first, second).visits().get(1).gate()).isEqualTo(Timetable.Gate.CLOSED_BY_THEN);
    }

    @Test
    void onAnotherDayNowSaysNothing() {
        var stop = at(20, 45, null);
        var dayAfter = DAY.plusDays(1).atTime(12, 0).atZone(ZONE).toInstant();

        assertThat(Timetable.asOf(dayAfter, DAY, ZONE, LocalTime.of(8, 0), LocalTime.of(17, 0), BASE, List.of(stop)))
                .isEqualTo(plan(stop));
    }

    /** Ours: 5 minutes. */
    @Test
    void lessThanFiveMinutesIsNotLate() {
        var stop = at(20, 45, null);
        var planned = plan(stop).visits().getFirst();

        // Planned from 08:31:12.
        assertThat(asOf("08:36", stop).visits().getFirst().lateAgainst(planned)).isZero();
        assertThat(asOf("08:37", stop).visits().getFirst().lateAgainst(planned))
                .isEqualTo(Duration.ofMinutes(5).plusSeconds(48));
    }

    @Test
    void saysHowLongAfterTheShiftTheVanIsBack() {
        var table = asOf("16:00", at(20, 45, null));

        // 45 min of work and 31.2 min home.
        assertThat(table.back().toLocalTime()).isEqualTo("17:16:12");
        assertThat(table.overruns()).isEqualTo(Duration.ofMinutes(16).plusSeconds(12));
        assertThat(table.km()).isCloseTo(52, within(1e-6));
        assertThat(table.driving()).isEqualTo(Duration.ofMinutes(62).plusSeconds(24));
    }

    /** North of the base, so many km along the meridian. */
    private static Place away(double km) {
        return new Place(BASE.latitude() + Math.toDegrees(km / Travel.EARTH_RADIUS_KM), BASE.longitude());
    }

    private static Timetable.Stop at(double km, int minutes, Timetable.@Nullable Actual actual) {
        return new Timetable.Stop(
                UUID.randomUUID(),
                away(km),
                ZONE,
                LocalTime.of(0, 1),
                LocalTime.of(23, 0),
                Duration.ofMinutes(minutes),
                actual);
    }

    private static Timetable.Actual actual(String began, @Nullable String ended) {
        return new Timetable.Actual(moment(began), ended == null ? null : moment(ended));
    }

    private static Instant moment(String time) {
        return DAY.atTime(LocalTime.parse(time)).atZone(ZONE).toInstant();
    }

    private static Timetable plan(Timetable.Stop... stops) {
        return table(stops);
    }

    private static Timetable asOf(String now, Timetable.Stop... stops) {
        return Timetable.asOf(moment(now), DAY, ZONE, LocalTime.of(8, 0), LocalTime.of(17, 0), BASE, List.of(stops));
    }

    private static Timetable.Gate gate(Timetable.Stop stop) {
        return table(stop).visits().getFirst().gate();
    }

    private static Timetable table(Timetable.Stop... stops) {
        return Timetable.of(DAY, ZONE, LocalTime.of(8, 0), LocalTime.of(17, 0), BASE, List.of(stops));
    }

    private static Timetable.Stop stop(@Nullable LocalTime opens, @Nullable LocalTime closes, int minutes) {
        return new Timetable.Stop(
                UUID.randomUUID(), new Place(52.75, -1.25), ZONE, opens, closes, Duration.ofMinutes(minutes));
    }
}
