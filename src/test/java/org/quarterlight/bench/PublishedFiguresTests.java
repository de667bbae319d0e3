package org.quarterlight.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The core beside figures from outside the project; the source stands with each. */
class PublishedFiguresTests {
    private static final ZoneId LONDON = ZoneId.of("Europe/London");

    /** Magnus with the coefficients of WMO-No. 8, Annex 4.B (secondary); values computed from them independently. */
    @ParameterizedTest
    @CsvSource({"20,50,9.26", "25,60,16.69", "10,80,6.71", "30,70,23.93", "20,85,17.40", "5,90,3.50"})
    void dewPointsAreThoseOfTheTable(double airCelsius, double humidityPercent, double dewPointCelsius) {
        assertThat(DewPoint.celsius(airCelsius, humidityPercent)).isCloseTo(dewPointCelsius, within(0.005));
    }

    @Test
    void saturatedAirIsAtItsDewPoint() {
        assertThat(DewPoint.celsius(13.7, 100)).isCloseTo(13.7, within(1e-12));
    }

    /** NREL/TP-560-34302, appendix A.5, as NREL's own tester prints it (seen): zenith, azimuth and incidence. */
    @Test
    void theSunStandsWhereTheReportHasIt() {
        var sun = Sun.at(Instant.parse("2003-10-17T19:30:30Z"), 39.742476, -105.1786, 1830.14, 67, 820, 11);

        assertThat(sun.zenithDegrees()).isCloseTo(50.111622, within(1e-5));
        assertThat(sun.azimuthDegrees()).isCloseTo(194.340241, within(1e-5));
        // The report's plane is sloped by 30° and turned by 10° from south to the east: it faces 170°.
        assertThat(new Pane(170, 30).incidenceDegrees(sun)).isCloseTo(25.187000, within(1e-5));
    }

    /** The same place: our own air pressure and ΔT move the sun by less than the sun's own radius. */
    @Test
    void usualAirMovesTheSunByLessThanItsRadius() {
        var sun = Sun.at(Instant.parse("2003-10-17T19:30:30Z"), 39.742476, -105.1786);

        assertThat(sun.zenithDegrees()).isCloseTo(50.111622, within(0.25));
        assertThat(sun.azimuthDegrees()).isCloseTo(194.340241, within(0.25));
    }

    /** σ = E·α·ΔT/(1 − ν) with EN 572-1's figures (secondary): 0.788 MPa/K, and 31.5 MPa at 40 K (computed). */
    @Test
    void thermalStressIsThatOfTheRestrainedPlate() {
        assertThat(ThermalShock.stressMpa(1)).isCloseTo(0.788, within(0.0005));
        assertThat(ThermalShock.stressMpa(40)).isCloseTo(31.5, within(0.05));
        assertThat(ThermalShock.stressMpa(-40)).isEqualTo(ThermalShock.stressMpa(40));
    }

    /** 2006/25/EC, Annex I, row b: 10⁴ J/m² (number from memory); times computed: 10, 33, 100 and 1000 W/m². */
    @ParameterizedTest
    @CsvSource({"1,1000", "3.3,303", "10,100", "100,10"})
    void theEyeMayLookAsLongAsTheDirectiveAllows(double mwPerCm2, long seconds) {
        var allowed = EyeLimit.longestUnprotected(new LampReading(365, mwPerCm2, 200), 200);

        assertThat(allowed.toSeconds()).isEqualTo(seconds);
    }

    /** S(365 nm) is 1.1·10⁻⁴ (ICNIRP 2004, Table 1, from memory): 30 J/m² weighted are 2.7·10⁵, so 10⁴ J/m² binds. */
    @Test
    void theUnweightedLimitBindsAt365Nm() {
        assertThat(30 / EyeLimit.weight(365)).isCloseTo(2.7e5, within(3e3));
        assertThat(EyeLimit.weight(350)).isGreaterThan(EyeLimit.weight(358)).isGreaterThan(EyeLimit.weight(365));
        assertThat(EyeLimit.weight(420)).isEqualTo(EyeLimit.weight(400));
    }

    @Test
    void aDimLampIsAllowedForTheWorkingDay() {
        assertThat(EyeLimit.longestUnprotected(new LampReading(365, 0.001, 200), 200))
                .isEqualTo(Duration.ofHours(8));
    }

    /** H = E·t: 100 mW/cm² for 60 s are 6 J/cm² (by definition). */
    @Test
    void theDoseAsksForItsTime() {
        var lamp = new LampReading(365, 100, 50);

        assertThat(CureTime.of(Duration.ofSeconds(30), 6.0, lamp, 50, CureTime.Side.OUTSIDE))
                .isEqualTo(new CureTime.AtLeast(Duration.ofSeconds(60), true, CureTime.DOSE_IS_NOT_CURE));
        assertThat(CureTime.of(Duration.ofMinutes(10), 6.0, lamp, 50, CureTime.Side.OUTSIDE))
                .isEqualTo(new CureTime.AtLeast(Duration.ofMinutes(10), false, CureTime.DOSE_IS_NOT_CURE));
    }

    /** Twice the distance cuts the irradiance by about 75 % (adhesive engineering note, 2014; seen). */
    @Test
    void twiceAsFarTakesFourTimesAsLong() {
        var lamp = new LampReading(365, 100, 50);

        assertThat(lamp.irradianceMwPerCm2At(100)).isEqualTo(25);
        assertThat(CureTime.of(Duration.ZERO, 6.0, lamp, 100, CureTime.Side.OUTSIDE))
                .isEqualTo(new CureTime.AtLeast(Duration.ofSeconds(240), true, CureTime.DOSE_IS_NOT_CURE));
        // Nearer than it was measured nothing more is promised to the resin, and the eye is warned.
        assertThat(lamp.irradianceMwPerCm2At(10)).isEqualTo(100);
        assertThat(EyeLimit.longestUnprotected(lamp, 25)).isEqualTo(Duration.ofMillis(2500));
    }

    /** Windscreens block 96 % of UV-A (JAMA Ophthalmol. 2016;134(7):772–775; seen). */
    @Test
    void curingThroughTheLaminateIsRefusedWithTheReason() {
        var answer = CureTime.of(Duration.ofMinutes(10), null, new LampReading(365, 100, 50), 50, CureTime.Side.INSIDE);

        assertThat(answer)
                .isInstanceOfSatisfying(
                        CureTime.Refused.class,
                        refused -> assertThat(refused.reason()).contains("96 %", "outside"));
    }

    @Test
    void aDoseWithoutAMeasuredLampIsRefused() {
        assertThat(CureTime.of(Duration.ofMinutes(10), 6.0, null, 50, CureTime.Side.OUTSIDE))
                .isInstanceOf(CureTime.Refused.class);
    }

    /** Upright glass facing east at 51.5° north, at the equinox: lit from sunrise until the sun stands in the south. */
    @Test
    void glassFacingEastIsLitUntilTheSunStandsInTheSouth() {
        var day = LocalDate.of(2026, 3, 20);
        var windows = Sun.windows(day, LONDON, 51.5, 0, new Pane(90, 90));

        assertThat(windows).singleElement().satisfies(window -> {
            var before = Sun.at(window.from().minusSeconds(60), 51.5, 0);
            var after = Sun.at(window.from(), 51.5, 0);
            assertThat(before.isUp()).isFalse();
            assertThat(after.isUp()).isTrue();
            assertThat(Sun.at(window.to(), 51.5, 0).azimuthDegrees()).isCloseTo(180, within(0.5));
        });
        assertThat(Sun.windows(LocalDate.of(2026, 12, 20), LONDON, 51.5, 0, new Pane(0, 90)))
                .isEmpty();
    }

    /** Above the polar circle the sun stays up at midsummer: glass that lies nearly flat is lit all day. */
    @Test
    void atMidsummerInTheFarNorthGlassIsLitAllDay() {
        var day = LocalDate.of(2026, 6, 21);
        var zone = ZoneId.of("Europe/Oslo");

        assertThat(Sun.windows(day, zone, 78, 15, new Pane(180, 5)))
                .containsExactly(new SunWindow(
                        day.atStartOfDay(zone).toInstant(),
                        day.plusDays(1).atStartOfDay(zone).toInstant()));
    }
}
