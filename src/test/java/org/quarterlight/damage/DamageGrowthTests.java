package org.quarterlight.damage;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.TestOrganisations.as;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Quantity;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import tools.jackson.databind.json.JsonMapper;

/** What several looks at a damage tell, and when its verdict turns. */
@QuarterlightTest
class DamageGrowthTests {
    private static final ZoneId ZONE = ZoneId.of("Europe/London");

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet fleet;

    @Autowired
    private DamageReporting reporting;

    @Autowired
    private DamageGrowth growth;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private JsonMapper json;

    private final Instant now = Instant.now();
    private TestOrganisation owner;
    private UUID vehicle;

    @BeforeEach
    void aCar() {
        owner = organisations.fleet();
        vehicle = as(owner, Role.MANAGER, () -> {
            var depot = depots.create(new SaveDepot(
                    "Yard",
                    "1 Yard Lane",
                    new BigDecimal("52"),
                    new BigDecimal("-1"),
                    "Europe/London",
                    "GB",
                    null,
                    null,
                    0,
                    null));
            return fleet.create(new SaveVehicle(
                            depot.id(), "QV23 KTB", null, VehicleCategory.M1, null, SteeringSide.RIGHT, "", "", ""))
                    .id();
        });
    }

    @Test
    void warnsWhereItGrowsPastALimitBeforeThePlannedDay() { // BS AU 242b:2022, secondary: at most 40 mm outside zone A
        var damage = report("20", 20);
        observe(damage, "28", 10);
        observe(damage, "36", 0);
        var view = of(damage);
        assertThat(view.quantity()).isEqualTo(Quantity.OVERALL_DIAMETER);
        assertThat(view.readings()).extracting(GrowthView.Reading::mm).containsExactly(20.0, 28.0, 36.0);
        assertThat(requireNonNull(view.rate()).mmPerWeek()).isCloseTo(5.6, within(0.01));
        assertThat(view.rate().lowestMmPerWeek()).isLessThan(5.6);
        assertThat(view.plannedFor()).isEqualTo(LocalDate.ofInstant(now, ZONE).plusDays(14));
        var expected = requireNonNull(view.expected());
        assertThat(expected.outcome()).isEqualTo(Outcome.REPLACE);
        assertThat(expected.on())
                .as("4 mm at 0.8 mm a day")
                .isBetween(
                        LocalDate.ofInstant(now, ZONE).plusDays(4),
                        LocalDate.ofInstant(now, ZONE).plusDays(6));
        assertThat(expected.beforePlanned()).isTrue();
        assertThat(requireNonNull(view.possible()).on()).isBeforeOrEqualTo(expected.on());
        assertThat(view.warning()).contains("At this rate it passes a limit on").contains("at most 40 mm");

        var page = page(damage);
        assertThat(page)
                .contains("At this rate it passes a limit on", "class=\"glass-drawing growth\"", "5.6 mm a week");
        assertThat(page).contains("Numbered from the first look to the last");
        var answer = mvc.get()
                .uri("/api/v1/damages/" + damage + "/growth")
                .header("Authorization", owner.bearer(Role.TECHNICIAN))
                .exchange();
        assertThat(answer).hasStatusOk();
        assertThat(json.readTree(text(answer)).path("expected").path("outcome").asString())
                .isEqualTo("replace");
    }

    @Test
    void saysNothingOfOneThatDoesNotGrow() {
        var damage = report("20", 20);
        observe(damage, "20", 10);
        observe(damage, "20", 0);
        var view = of(damage);
        assertThat(requireNonNull(view.rate()).mmPerWeek()).isCloseTo(0, within(1e-9));
        assertThat(view.expected()).isNull();
        assertThat(view.warning()).isNull();
        assertThat(page(damage)).contains("At this rate no limit is reached within a year");
    }

    @Test
    void needsASecondLook() {
        var damage = report("20", 1);
        assertThat(of(damage).rate()).isNull();
        assertThat(page(damage)).contains("A second look tells how fast it grows");
    }

    private GrowthView of(UUID damage) {
        return as(owner, Role.MANAGER, () -> growth.of(damage));
    }

    private UUID report(String diameterMm, int daysAgo) {
        return as(
                owner,
                Role.MANAGER,
                () -> reporting
                        .report(new ReportDamage(
                                vehicle, DamageKind.BULLSEYE, now.minus(Duration.ofDays(daysAgo)), seen(diameterMm)))
                        .id());
    }

    private void observe(UUID damage, String diameterMm, int daysAgo) {
        as(
                owner,
                Role.MANAGER,
                () -> reporting.observe(
                        damage, new ObserveDamage(null, now.minus(Duration.ofDays(daysAgo)), seen(diameterMm))));
    }

    private static SeenDamage seen(String diameterMm) {
        return new SeenDamage(
                new BigDecimal("300"),
                new BigDecimal("420"),
                null,
                null,
                new BigDecimal(diameterMm),
                null,
                new BigDecimal("3"),
                null,
                Layers.OUTER,
                Condition.CLEAN_DRY,
                Seen.GAUGE,
                null,
                null);
    }

    private String page(UUID damage) {
        var result = mvc.get()
                .uri("/damages/" + damage)
                .with(authentication(new ActingAuthentication(owner.person(Role.MANAGER))))
                .exchange();
        assertThat(result).as(() -> text(result)).hasStatusOk();
        return text(result);
    }

    private static String text(org.springframework.test.web.servlet.assertj.MvcTestResult result) {
        try {
            return result.getResponse().getContentAsString();
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}
