package org.quarterlight.fleet;

import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Pictures of glasses for the rows of a list: what is open on each, at a glance. Three queries for any number of rows. */
@Service
public class SmallGlasses {
    private final JdbcClient jdbc;
    private final GlassPatterns patterns;
    private final OpenOnGlass open;

    SmallGlasses(JdbcClient jdbc, GlassPatterns patterns, OpenOnGlass open) {
        this.jdbc = jdbc;
        this.patterns = patterns;
        this.open = open;
    }

    private record Carried(UUID vehicle, GlassPatterns.Version glass) {}

    /** SVG by vehicle, of the glass that each carries now. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public Map<UUID, String> of(Collection<UUID> vehicles) {
        if (vehicles.isEmpty()) {
            return Map.of();
        }
        var carried = jdbc.sql("""
            select vehicle_id, pattern_id, pattern_number from windscreen
            where tenant_id = :organisation and vehicle_id in (:vehicles) and removed_on is null\
            """)
                .param("organisation", Tenants.require().value())
                .param("vehicles", vehicles)
                .query((row, number) -> new Carried(
                        row.getObject("vehicle_id", UUID.class),
                        new GlassPatterns.Version(
                                row.getObject("pattern_id", UUID.class), row.getInt("pattern_number"))))
                .list();
        var drawn = patterns.drawn(carried.stream().map(Carried::glass).collect(Collectors.toSet()));
        var damages = open.of(vehicles);
        var pictures = new HashMap<UUID, String>();
        for (var each : carried) {
            var pattern = drawn.get(each.glass());
            if (pattern != null) {
                pictures.put(
                        each.vehicle(), GlassDrawing.mini(pattern, damages.getOrDefault(each.vehicle(), List.of())));
            }
        }
        return pictures;
    }

    /** Of those whose damage is expected to pass a limit before somebody sees to it, the first day of that. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public Map<UUID, LocalDate> growing(Collection<UUID> vehicles) {
        return open.growing(vehicles);
    }
}
