package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.eligibility.Cases.damage;
import static org.quarterlight.eligibility.Cases.glazing;
import static org.quarterlight.eligibility.Cases.judge;
import static org.quarterlight.eligibility.Cases.sheet;

import java.util.Comparator;
import java.util.List;
import java.util.Random;
import java.util.UUID;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Test;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.VehicleCategory;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

class VerdictJsonTests {
    private static final JsonMapper JSON = JsonMapper.builder().build();

    private static Verdict starOfTheDesign() {
        var star = damage(DamageKind.STAR_BREAK, 300, 300, 24.6)
                .uncertain(0.5, 0.65)
                .facts();
        return judge(
                glazing(VehicleCategory.M3, 18000.0),
                star,
                sheet("uk-goods-and-passenger-roadworthiness"),
                sheet("bs-au-242b-2022"));
    }

    @Test
    void hasTheShapeOfTheDesign() {
        var json = JSON.valueToTree(starOfTheDesign());
        assertThat(json.propertyNames())
                .containsExactly("outcome", "by", "sentence", "answers", "findings", "judgedAt", "judgedFrom");
        assertThat(json.path("outcome").asString()).isEqualTo("repair");
        assertThat(json.path("by").asString()).isEqualTo("2026-12-09");
        assertThat(json.path("judgedAt").asString()).isEqualTo("2026-11-25T09:30:00Z");
        assertThat(json.path("answers").toString())
                .isEqualTo(
                        "{\"roadworthy\":{\"result\":\"yes\",\"grade\":\"minor\"},\"repairable\":{\"result\":\"yes\"},"
                                + "\"asRepaired\":{\"result\":\"yes\",\"grade\":\"none\"},\"acceptable\":null}");
        var size = StreamSupport.stream(json.path("findings").spliterator(), false)
                .filter(finding -> finding.path("question").asString().equals("repairable"))
                .filter(finding -> finding.path("rule").asString().equals("size-outside-drivers-zone"))
                .findFirst()
                .orElseThrow();
        assertThat(size.propertyNames())
                .containsExactly(
                        "question",
                        "rule",
                        "quantity",
                        "where",
                        "measuredMm",
                        "standardUncertaintyMm",
                        "bound",
                        "limitMm",
                        "marginMm",
                        "conformity",
                        "result",
                        "sheet",
                        "source");
        assertThat(size.path("quantity").asString()).isEqualTo("overall-diameter");
        assertThat(size.path("measuredMm").asDouble()).isEqualTo(24.6);
        assertThat(size.path("limitMm").asDouble()).isEqualTo(40);
        assertThat(size.path("marginMm").asDouble()).isEqualTo(40 - 24.6);
        assertThat(size.path("bound").asString()).isEqualTo("at-most");
        assertThat(size.path("sheet").toString())
                .isEqualTo("{\"id\":\"bs-au-242b-2022\",\"name\":\"BS AU 242b:2022\",\"version\":1}");
        assertThat(size.path("source").toString())
                .isEqualTo("{\"document\":\"BS AU 242b:2022\",\"section\":\"zone B\",\"status\":\"secondary\","
                        + "\"checkedOn\":\"2026-11-25\"}");
        var layers = json.path("findings").get(json.path("findings").size() - 1);
        assertThat(layers.path("conformity").isNull()).isTrue();
        assertThat(layers.path("seen").asString()).isEqualTo("outer");
        assertThat(json.path("judgedFrom").propertyNames()).containsExactly("observation", "pattern", "sheets");
        assertThat(json.path("judgedFrom").path("pattern").toString())
                .isEqualTo("{\"id\":\"a0000000-0000-7000-8000-000000000001\",\"version\":3}");
    }

    @Test
    void comesBackFromABinaryColumnByteForByte() {
        var random = new Random(20261125);
        for (var i = 0; i < 300; i++) {
            var verdict = any(random);
            var written = JSON.writeValueAsString(verdict);
            var stored = JSON.writeValueAsString(asBinaryColumn(JSON.readTree(written)));
            var read = JSON.readValue(stored, Verdict.class);
            assertThat(read).isEqualTo(verdict);
            assertThat(JSON.writeValueAsString(read)).isEqualTo(written);
        }
    }

    private static Verdict any(Random random) {
        var kind = DamageKind.values()[random.nextInt(DamageKind.values().length)];
        var some = damage(kind, random.nextDouble(-800, 800), random.nextDouble(0, 800), random.nextDouble(0, 90))
                .uncertain(random.nextBoolean() ? 0 : random.nextDouble(5), random.nextDouble(10))
                .layers(random.nextBoolean() ? null : Layers.THROUGH)
                .condition(random.nextBoolean() ? null : Condition.WET)
                .found(Grade.values()[random.nextInt(4)])
                .facts();
        var glazing = new Glazing(
                Cases.pattern(),
                new PatternReference(
                        new UUID(random.nextLong(), random.nextLong()).toString(), 1, random.nextBoolean()),
                new VehicleFacts(VehicleCategory.values()[random.nextInt(6)], null));
        return judge(glazing, some, Sheets.shipped().toArray(Sheet[]::new));
    }

    /** PostgreSQL keeps the names of an object by their length, then by their bytes, and drops white space. */
    private static JsonNode asBinaryColumn(JsonNode node) {
        if (node.isObject()) {
            var sorted = JSON.createObjectNode();
            List.copyOf(node.propertyNames()).stream()
                    .sorted(Comparator.comparingInt(String::length).thenComparing(Comparator.naturalOrder()))
                    .forEach(name -> sorted.set(name, asBinaryColumn(node.path(name))));
            return sorted;
        }
        if (node.isArray()) {
            var items = JSON.createArrayNode();
            node.forEach(item -> items.add(asBinaryColumn(item)));
            return items;
        }
        return node;
    }
}
