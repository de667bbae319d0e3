package org.quarterlight;

import java.io.IOException;
import java.io.PrintStream;
import java.net.HttpURLConnection;
import java.net.URI;
import java.time.Duration;
import java.util.Map;

/** The command that asks the service beside it how it is: for container runtimes, in images without curl. */
final class CheckHealth {
    static final String COMMAND = "--quarterlight.check-health";

    private static final Duration PATIENCE = Duration.ofSeconds(5);

    private CheckHealth() {}

    /** Zero where the service answers that it is up. */
    static int run(Map<String, String> environment, PrintStream out, PrintStream errors) {
        var address = "http://127.0.0.1:" + environment.getOrDefault("SERVER_PORT", "8080") + "/actuator/health";
        try {
            var connection = (HttpURLConnection) URI.create(address).toURL().openConnection();
            connection.setConnectTimeout((int) PATIENCE.toMillis());
            connection.setReadTimeout((int) PATIENCE.toMillis());
            var status = connection.getResponseCode();
            if (status == HttpURLConnection.HTTP_OK) {
                out.println("up");
                return 0;
            }
            errors.println("The service answers " + status);
        } catch (IOException e) {
            errors.println("The service does not answer: " + e.getMessage());
        }
        return 1;
    }
}
