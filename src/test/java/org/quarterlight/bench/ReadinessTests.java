package org.quarterlight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.ZoneId;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ReadinessTests {
    private static final Workplace YARD = new Workplace(51.5, 0, ZoneId.of("Europe/London"), 60);
    /** The sun stands in the south-east then, 22° high. */
    private static final Instant MORNING = Instant.parse("2026-03-20T08:45:00Z");

    private static final Instant NIGHT = Instant.parse("2026-03-20T23:30:00Z");

    private static Conditions read(double air, double glass, double humidity) {
        return new Conditions(air, glass, humidity, Light.COVERED, false, true, null);
    }

    private static Readiness of(Conditions read) {
        return of(read, MORNING);
    }

    private static Readiness of(Conditions read, Instant at) {
        return Readiness.of(read, Method.GENERIC.limits(), YARD, at);
    }

    @Test
    void goodAirAndWarmDryGlassIsGo() {
        assertThat(of(read(15, 22, 60))).isEqualTo(new Readiness.Go(java.util.List.of()));
    }

    /** 3 K above the dew point, the rule tied to ISO 8502-4 (secondary). Air of 20 °C and 85 % has 17.40 °C. */
    @ParameterizedTest
    @CsvSource({"20.39, WAIT", "20.41, GO"})
    void glassHasToBeThreeKelvinAboveTheDewPoint(double glass, String expected) {
        var readiness = of(read(20, glass, 85));

        assertThat(readiness instanceof Readiness.Go).isEqualTo(expected.equals("GO"));
        if (readiness instanceof Readiness.Wait wait) {
            assertThat(wait.objections()).extracting(Objection::code).containsExactly("dew");
            assertThat(wait.objections().getFirst().change()).contains("20.4 °C");
        }
    }

    @Test
    void coldHotWetAndDampGlassWaitsAndEachSaysWhatToChange() {
        assertThat(codes(of(read(12, 12, 60)))).containsExactly("cold-glass");
        assertThat(codes(of(read(28, 34, 40)))).containsExactly("hot-glass");
        assertThat(codes(of(read(18, 25, 86)))).containsExactly("humidity");
        assertThat(codes(of(new Conditions(15, 22, 60, Light.COVERED, true, false, null))))
                .containsExactly("wet-glass");
        assertThat(codes(of(new Conditions(15, 22, 60, Light.SHADE, true, true, null))))
                .containsExactly("rain");
        assertThat(of(read(12, 12, 60)).objections())
                .allSatisfy(objection -> assertThat(objection.change()).isNotBlank());
    }

    @Test
    void directSunSaysUntilWhenItLasts() {
        var readiness = of(outside(Light.OPEN, 135.0));

        assertThat(readiness).isInstanceOfSatisfying(Readiness.Wait.class, wait -> {
            assertThat(codes(wait)).containsExactly("direct-sun");
            var ends = wait.betterAt().orElseThrow();
            assertThat(ends).isAfter(MORNING);
            var pane = new Pane(135, 60);
            assertThat(pane.isLitBy(Sun.at(ends, 51.5, 0))).isFalse();
            assertThat(pane.isLitBy(Sun.at(ends.minusSeconds(60), 51.5, 0))).isTrue();
        });
    }

    @Test
    void theGlassTurnedAwayFromTheSunIsGoAndShadeOutweighsWhatIsComputed() {
        assertThat(of(outside(Light.OPEN, 330.0))).isInstanceOf(Readiness.Go.class);
        assertThat(of(outside(Light.SHADE, 135.0))).isInstanceOf(Readiness.Go.class);
        assertThat(of(outside(Light.OPEN, 135.0), NIGHT)).isInstanceOf(Readiness.Go.class);
        assertThat(codes(of(outside(Light.SUN, null)))).containsExactly("direct-sun");
    }

    @Test
    void inTheOpenTheBearingIsNeededWhileTheSunIsUp() {
        assertThat(codes(of(outside(Light.OPEN, null)))).containsExactly("bearing");
        assertThat(of(outside(Light.OPEN, null), NIGHT)).isInstanceOf(Readiness.Go.class);
    }

    /** 45 MPa of EN 572-1 (secondary) over 0.7875 MPa/K are 57.1 K; from 40 K on it is said (from memory). */
    @Test
    void aDifferenceThatCanBreakSoundGlassStops() {
        var frost = new Method.Limits(-40.0, 90.0, null);

        assertThat(Readiness.of(read(-10, 47.2, 20), frost, YARD, NIGHT)).isInstanceOf(Readiness.Stop.class);
        assertThat(Readiness.of(read(-10, 47.1, 20), frost, YARD, NIGHT))
                .isInstanceOfSatisfying(
                        Readiness.Go.class,
                        go -> assertThat(go.cautions())
                                .singleElement()
                                .asString()
                                .contains("57.1 K", "45.0 MPa"));
        assertThat(Readiness.of(read(-10, 29.9, 20), frost, YARD, NIGHT).cautions())
                .isEmpty();
    }

    @Test
    void whatSpeaksAgainstItIsToldAllAtOnce() {
        assertThat(codes(of(new Conditions(9, 10, 95, Light.OPEN, true, false, 135.0))))
                .containsExactly("rain", "wet-glass", "dew", "humidity", "cold-glass", "direct-sun");
    }

    private static Conditions outside(Light light, @Nullable Double bearing) {
        return new Conditions(15, 22, 60, light, false, true, bearing);
    }

    private static java.util.List<String> codes(Readiness readiness) {
        return readiness.objections().stream().map(Objection::code).toList();
    }
}
