package org.quarterlight.dispatch.routing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
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
