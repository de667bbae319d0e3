package org.quarterlight.inspection.web;

import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamageView;
import org.quarterlight.fleet.DepotView;
import org.quarterlight.fleet.VehicleView;
import org.quarterlight.inspection.InspectionRow;

/**
 * Where a round through a yard stands: the vehicle in front of the inspector and those that follow.
 *
 * @param inspection null where nothing is to be looked at, or nothing of the vehicle whose plate was typed
 * @param left how many wait, this one included
 * @param past the inspection behind which the round goes on, be it done or left for later
 * @param problem what is to be said of the plate that was typed
 */
record Turn(
        DepotView depot,
        @Nullable InspectionRow inspection,
        @Nullable VehicleView vehicle,
        List<DamageView> damages,
        String drawing,
        List<InspectionRow> next,
        long left,
        @Nullable UUID past,
        @Nullable String problem) {}
