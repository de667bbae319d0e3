package org.quarterlight;

import java.io.PrintStream;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.quarterlight.history.ChainCheck;
import org.quarterlight.proof.PublishedKeys;
import org.quarterlight.repair.CertificateCheck;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.SingleConnectionDataSource;

/**
 * The command that reads the histories of all organisations again, as the role that migrates: it alone sees all of them.
 * Ends with 1 where one is not what was written, so that a scheduler can tell.
 */
final class VerifyHistory {
    static final String COMMAND = "--quarterlight.verify-history";

    private VerifyHistory() {}

    static int run(Map<String, String> environment, PrintStream out, PrintStream errors) {
        try (var connection = DatabaseRoles.connect(environment, "SPRING_FLYWAY_USER", "SPRING_FLYWAY_PASSWORD")) {
            return verify(connection, out, errors);
        } catch (SQLException e) {
            errors.println("The histories could not be read: " + e.getMessage());
        } catch (CannotStart e) {
            errors.println(e.getMessage());
        }
        return 2;
    }

    private static int verify(Connection connection, PrintStream out, PrintStream errors) throws SQLException {
        // One moment of all histories; and without a transaction the driver would fetch all rows at once.
        connection.setAutoCommit(false);
        connection.setReadOnly(true);
        connection.setTransactionIsolation(Connection.TRANSACTION_REPEATABLE_READ);
        var jdbc = JdbcClient.create(new SingleConnectionDataSource(connection, true));
        var check = new ChainCheck(jdbc, new PublishedKeys(jdbc));
        var certificates = new CertificateCheck(jdbc, new PublishedKeys(jdbc));
        var unsound = 0;
        for (var organisation : organisations(jdbc)) {
            var report = check.of(organisation, null).with(certificates.faults(organisation));
            if (report.sound()) {
                out.println(organisation + ": sound, " + report.lines() + " lines, " + report.seals() + " signed ends");
            } else {
                unsound++;
                errors.println(organisation + ": NOT SOUND, " + report.faultsInAll() + " faults in " + report.lines()
                        + " lines");
                report.faults().forEach(fault -> errors.println("  " + fault.sentence()));
            }
        }
        return unsound == 0 ? 0 : 1;
    }

    /** Whoever has left any trace: an organisation whose whole chain was deleted still has its lines or its signed ends. */
    private static List<UUID> organisations(JdbcClient jdbc) {
        return jdbc.sql("""
            select tenant_id from history_head union select tenant_id from history_seal
            union select distinct tenant_id from history order by 1\
            """)
                .query((row, number) -> row.getObject("tenant_id", UUID.class))
                .list();
    }
}
