package org.quarterlight.damage;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.fleet.OpenOnGlass;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DrawnDamage;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.Words;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** What is open on glasses, as it was seen last: one query for a whole page of vehicles. */
@Component
class OpenDamages implements OpenOnGlass {
    private final JdbcClient jdbc;
    private final GrowthWatch watch;

    OpenDamages(JdbcClient jdbc, GrowthWatch watch) {
        this.jdbc = jdbc;
        this.watch = watch;
    }

    @Override
    public Map<UUID, LocalDate> growing(Collection<UUID> vehicles) {
        return watch.firstOf(vehicles);
    }

    @Override
    public Map<UUID, List<DrawnDamage>> of(Collection<UUID> vehicles) {
        if (vehicles.isEmpty()) {
            return Map.of();
        }
        var open = new HashMap<UUID, List<DrawnDamage>>();
        jdbc.sql("""
            select g.vehicle_id, g.number, g.kind, g.outcome, o.x_mm, o.y_mm, o.to_x_mm, o.to_y_mm,
                o.course, o.legs, o.body_mm, o.pit_mm, g.diameter_mm
            from damage g
            cross join lateral (
                select * from observation o where o.tenant_id = g.tenant_id and o.damage_id = g.id
                order by o.seen_at desc, o.id desc limit 1) o
            where g.tenant_id = :organisation and g.vehicle_id in (:vehicles) and g.state <> 'CLOSED'
            order by g.number\
            """)
                .param("organisation", Tenants.require().value())
                .param("vehicles", vehicles)
                .query(row -> {
                    open.computeIfAbsent(row.getObject("vehicle_id", UUID.class), absent -> new ArrayList<>())
                            .add(drawn(row));
                });
        return open;
    }

    private record Row(
            BigDecimal xMm,
            BigDecimal yMm,
            @Nullable BigDecimal toXMm,
            @Nullable BigDecimal toYMm,
            BigDecimal diameterMm,
            @Nullable BigDecimal pitMm,
            @Nullable BigDecimal bodyMm,
            List<Corner> course,
            List<Leg> legs)
            implements SeenShape {}

    private static BigDecimal @Nullable [] numbers(ResultSet row, String column) throws SQLException {
        var array = row.getArray(column);
        return array == null ? null : (BigDecimal[]) array.getArray();
    }

    private static DrawnDamage drawn(ResultSet row) throws SQLException {
        var kind = DamageKind.valueOf(row.getString("kind"));
        var outcome = Outcome.valueOf(row.getString("outcome"));
        return new DrawnDamage(
                row.getInt("number"),
                new Row(
                                row.getBigDecimal("x_mm"),
                                row.getBigDecimal("y_mm"),
                                row.getBigDecimal("to_x_mm"),
                                row.getBigDecimal("to_y_mm"),
                                row.getBigDecimal("diameter_mm"),
                                row.getBigDecimal("pit_mm"),
                                row.getBigDecimal("body_mm"),
                                Observation.pairs(numbers(row, "course"), Corner::new),
                                Observation.pairs(numbers(row, "legs"), Leg::new))
                        .shape(),
                kind,
                Words.of(outcome),
                null,
                null,
                null,
                null,
                null,
                null,
                Words.spoken(kind) + ", " + Words.spoken(outcome));
    }
}
