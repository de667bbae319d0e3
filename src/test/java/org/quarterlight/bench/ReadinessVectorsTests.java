package org.quarterlight.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.StreamSupport;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * The service against the vectors that the device's own modules are held to in a browser, so that both say the same. Where
 * the figures come from stands beside the constants of each class; the vectors repeat what those classes give.
 */
class ReadinessVectorsTests {
    private static final JsonNode VECTORS = read();
    private static final ZoneId ZONE = ZoneId.of(VECTORS.at("/place/zone").asString());
    private static final Workplace PLACE = new Workplace(
            VECTORS.at("/place/latitude").asDouble(),
            VECTORS.at("/place/longitude").asDouble(),
            ZONE,
            VECTORS.at("/place/rakeDegrees").asDouble());
    private static final LocalDate DAY = LocalDate.parse(VECTORS.path("date").asString());

    @Test
    void dewPointsAndStresses() {
        for (var vector : VECTORS.path("dewPoints")) {
            assertThat(DewPoint.celsius(number(vector, "airCelsius"), number(vector, "relativeHumidityPercent")))
                    .as("%s", vector)
                    .isCloseTo(number(vector, "dewPointCelsius"), within(1e-6));
        }
        for (var vector : VECTORS.path("stresses")) {
            assertThat(ThermalShock.stressMpa(number(vector, "differenceK")))
                    .as("%s", vector)
                    .isCloseTo(number(vector, "mpa"), within(1e-9));
        }
    }

    @Test
    void sunOnTheGlassAndDaylight() {
        assertThat(windows(new Pane(0, 0))).isEqualTo(windows(VECTORS.path("daylight")));
        assertThat(VECTORS.path("sun")).hasSize(8);
        for (var vector : VECTORS.path("sun")) {
            assertThat(windows(new Pane(number(vector, "bearingDegrees"), PLACE.rakeDegrees())))
                    .as("%s", vector)
                    .isEqualTo(windows(vector.path("windows")));
        }
    }

    @Test
    void readings() {
        for (var vector : VECTORS.path("readings")) {
            var name = vector.path("name").asString();
            var bearing = vector.path("bearingDegrees");
            var at = Instant.parse(vector.path("at").asString());
            var conditions = new Conditions(
                    number(vector, "airCelsius"),
                    number(vector, "glassCelsius"),
                    number(vector, "relativeHumidityPercent"),
                    Light.valueOf(vector.path("light").asString().toUpperCase(Locale.ROOT)),
                    vector.path("rain").asBoolean(),
                    vector.path("glassDry").asBoolean(),
                    bearing.isNull() ? null : bearing.asDouble());
            var limits = vector.path("limits");
            var readiness = Readiness.of(
                    conditions,
                    new Method.Limits(
                            orNull(limits, "leastGlassCelsius"),
                            orNull(limits, "mostGlassCelsius"),
                            orNull(limits, "mostHumidityPercent")),
                    PLACE,
                    at);

            assertThat(readiness.getClass().getSimpleName().toLowerCase(Locale.ROOT))
                    .as(name)
                    .isEqualTo(vector.path("outcome").asString());
            assertThat(readiness.objections())
                    .as(name)
                    .extracting(Objection::code)
                    .containsExactlyElementsOf(texts(vector.path("codes")));
            var said = readiness.objections().stream()
                    .map(each -> each.reason() + " " + each.change())
                    .collect(Collectors.joining(" "));
            assertThat(texts(vector.path("says")))
                    .as(name)
                    .allSatisfy(words -> assertThat(said).contains(words));
            if (vector.path("untilTheSunHasGone").asBoolean()) {
                assertThat(readiness.objections().getLast().betterAt())
                        .as(name)
                        .isEqualTo(
                                Instant.parse(VECTORS.at("/sun/3/windows/0/to").asString()));
            }
        }
    }

    @Test
    void timesUnderTheLamp() {
        for (var vector : VECTORS.path("cures")) {
            var cure = CureTime.of(
                    Duration.ofSeconds(vector.path("leastSeconds").asLong()),
                    orNull(vector, "doseJPerCm2"),
                    new LampReading(365, number(vector, "irradianceMwPerCm2"), number(vector, "readAtMm")),
                    number(vector, "distanceMm"),
                    CureTime.Side.OUTSIDE);

            assertThat(cure)
                    .as("%s", vector)
                    .isInstanceOfSatisfying(
                            CureTime.AtLeast.class,
                            least -> assertThat(least.time().toSeconds())
                                    .isEqualTo(vector.path("seconds").asLong()));
        }
    }

    @Test
    void whatComesNextByTheMethod() {
        for (var vector : VECTORS.path("next")) {
            var done = StreamSupport.stream(vector.path("phases").spliterator(), false)
                    .map(phase -> new DonePhase(
                            kind(phase.path("kind").asString()),
                            Instant.EPOCH.plusSeconds(phase.path("fromSecond").asLong()),
                            Instant.EPOCH.plusSeconds(phase.path("toSecond").asLong()),
                            phase.path("requiredSeconds").isNull()
                                    ? null
                                    : phase.path("requiredSeconds").asInt(),
                            phase.has("clear") ? phase.path("clear").asBoolean() : null))
                    .toList();
            var next = vector.path("next");

            assertThat(MethodCheck.next(Method.GENERIC, done).orElse(null))
                    .as(vector.path("name").asString())
                    .isEqualTo(next.isNull() ? null : kind(next.asString()));
        }
    }

    @Test
    void whatComesNextWhereAKindStandsMoreThanOnce() {
        var twice = VECTORS.path("twiceCured");
        var method = new Method(
                "Twice cured",
                "thin",
                "data sheet",
                false,
                new Method.Limits(null, null, null),
                null,
                twice.path("leastCycles").asInt(),
                twice.path("restSeconds").asInt(),
                false,
                StreamSupport.stream(twice.path("steps").spliterator(), false)
                        .map(step -> new Method.Step(
                                kind(step.path("kind").asString()),
                                step.path("required").asBoolean(),
                                step.path("leastSeconds").asInt(),
                                null))
                        .toList());
        for (var vector : twice.path("next")) {
            var words = vector.path("phases").asString().split("[ -](?=\\d)| (?=[a-z])");
            var done = IntStream.range(0, words.length / 3)
                    .mapToObj(at -> new DonePhase(
                            kind(words[3 * at]),
                            Instant.EPOCH.plusSeconds(Long.parseLong(words[3 * at + 1])),
                            Instant.EPOCH.plusSeconds(Long.parseLong(words[3 * at + 2])),
                            null))
                    .toList();

            assertThat(MethodCheck.places(method, done))
                    .as(vector.path("name").asString())
                    .containsExactlyElementsOf(
                            StreamSupport.stream(vector.path("places").spliterator(), false)
                                    .map(JsonNode::asInt)
                                    .toList());
            assertThat(MethodCheck.nextPlace(method, done))
                    .as(vector.path("name").asString())
                    .contains(vector.path("next").asInt());
        }
    }

    private static List<SunWindow> windows(Pane pane) {
        return Sun.windows(DAY, ZONE, PLACE.latitude(), PLACE.longitude(), pane);
    }

    private static List<SunWindow> windows(JsonNode array) {
        return StreamSupport.stream(array.spliterator(), false)
                .map(each -> new SunWindow(
                        Instant.parse(each.path("from").asString()),
                        Instant.parse(each.path("to").asString())))
                .toList();
    }

    private static PhaseKind kind(String word) {
        return PhaseKind.valueOf(word.toUpperCase(Locale.ROOT).replace('-', '_'));
    }

    private static double number(JsonNode vector, String name) {
        return vector.path(name).asDouble();
    }

    private static @Nullable Double orNull(JsonNode vector, String name) {
        return vector.path(name).isNull() ? null : vector.path(name).asDouble();
    }

    private static List<String> texts(JsonNode array) {
        return StreamSupport.stream(array.spliterator(), false)
                .map(JsonNode::asString)
                .toList();
    }

    private static JsonNode read() {
        try (var vectors = ReadinessVectorsTests.class.getResourceAsStream("/bench/readiness-vectors.json")) {
            return new JsonMapper().readTree(vectors);
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }
}
