package org.quarterlight.fleet;

import java.math.BigDecimal;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicInteger;
import org.jspecify.annotations.Nullable;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.tenancy.Role;
import org.springframework.stereotype.Component;

/** Depots and vehicles for tests, made through the service's own verbs. */
@Component
public class TestFleets {
    private static final AtomicInteger MADE = new AtomicInteger();

    private final Fleet fleet;
    private final Depots depots;

    TestFleets(Fleet fleet, Depots depots) {
        this.fleet = fleet;
        this.depots = depots;
    }

    public static SaveDepot depotCalled(String name, String country) {
        return new SaveDepot(
                name,
                "1 Weir Lane",
                new BigDecimal("52.715"),
                new BigDecimal("-1.42"),
                "Europe/London",
                country,
                null,
                null,
                4,
                null);
    }

    public DepotView depot(TestOrganisation organisation, String name) {
        return TestOrganisations.as(organisation, Role.MANAGER, () -> depots.create(depotCalled(name, "GB")));
    }

    public static SaveVehicle coach(UUID depot, String registration) {
        return new SaveVehicle(
                depot, registration, null, VehicleCategory.M3, 18000, SteeringSide.RIGHT, "Coach", "12", null);
    }

    public VehicleView vehicle(TestOrganisation organisation, UUID depot, @Nullable String registration) {
        var plate = registration == null ? "QV " + MADE.incrementAndGet() : registration;
        return TestOrganisations.as(organisation, Role.MANAGER, () -> fleet.create(coach(depot, plate)));
    }
}
