package org.quarterlight.fleet;

import java.io.IOException;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.list.Registration;
import org.quarterlight.fleet.list.VehicleLine;
import org.quarterlight.fleet.list.VehicleListWriter;
import org.quarterlight.fleet.list.Vin;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.web.CsvFile;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Vehicles as a list that the import takes back. */
@Service
public class VehicleExport {
    private static final String COLUMNS = """
        v.registration, v.vin, v.category, v.max_mass_kg, v.steering_side, d.name as depot, v.make_model,
        v.fleet_number, v.first_registered, w.fitted_on, v.notes\
        """;
    private static final String FROM = """
        vehicle v
        join vehicle_condition c on c.tenant_id = v.tenant_id and c.vehicle_id = v.id
        join depot d on d.tenant_id = v.tenant_id and d.id = v.depot_id
        left join windscreen w on w.tenant_id = v.tenant_id and w.vehicle_id = v.id and w.removed_on is null\
        """;

    private final JdbcClient jdbc;

    VehicleExport(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** Writes row by row, so that memory does not grow with the fleet. The separator is a comma or a semicolon. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public void write(VehicleFilter filter, CsvFile.Destination destination, char separator) throws IOException {
        try (var list = new VehicleListWriter(destination.open(), separator)) {
            Fleet.filtered(filter, COLUMNS, FROM).each(jdbc, Fleet.order(filter), row -> list.write(line(row)));
        }
    }

    private static VehicleLine line(ResultSet row) throws SQLException {
        var vin = row.getString("vin");
        return new VehicleLine(
                Registration.of(row.getString("registration")),
                vin == null ? null : new Vin(vin),
                VehicleCategory.valueOf(row.getString("category")),
                row.getObject("max_mass_kg", Integer.class),
                SteeringSide.valueOf(row.getString("steering_side")),
                row.getString("depot"),
                null,
                text(row, "make_model"),
                text(row, "fleet_number"),
                row.getObject("first_registered", LocalDate.class),
                row.getObject("fitted_on", LocalDate.class),
                text(row, "notes"));
    }

    private static @Nullable String text(ResultSet row, String column) throws SQLException {
        var text = row.getString(column);
        return text.isEmpty() ? null : text;
    }
}
