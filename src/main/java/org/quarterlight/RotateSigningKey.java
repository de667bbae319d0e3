package org.quarterlight;

import java.io.PrintStream;
import java.sql.SQLException;
import java.util.Map;
import org.quarterlight.proof.SigningKeys;

/**
 * The command that takes the key that certificates are signed with out of use, as the role that serves. The service makes
 * the next with its next signature; what was signed stays valid.
 */
final class RotateSigningKey {
    static final String COMMAND = "--quarterlight.rotate-signing-key";

    private RotateSigningKey() {}

    static int run(Map<String, String> environment, PrintStream out, PrintStream errors) {
        try (var connection =
                        DatabaseRoles.connect(environment, "SPRING_DATASOURCE_USERNAME", "SPRING_DATASOURCE_PASSWORD");
                var statement = connection.createStatement()) {
            var retired = statement.executeUpdate(SigningKeys.RETIRE);
            out.println(
                    retired == 0
                            ? "There is no key in use. The next signature makes one."
                            : "The key is out of use. The next signature makes another.");
            return 0;
        } catch (SQLException e) {
            errors.println("The key could not be replaced: " + e.getMessage());
        } catch (CannotStart e) {
            errors.println(e.getMessage());
        }
        return 1;
    }
}
