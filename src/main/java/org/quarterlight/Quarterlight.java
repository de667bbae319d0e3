package org.quarterlight;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.modulith.Modulithic;
import org.springframework.scheduling.annotation.EnableAsync;
import org.springframework.scheduling.annotation.EnableScheduling;

/**
 * Starts the service. {@code tenancy} is reached through statics and {@code web} through nothing at all, so tests of one
 * module always bring both.
 */
@SpringBootApplication
@EnableAsync
@EnableScheduling
@Modulithic(sharedModules = {"tenancy", "web"})
public class Quarterlight {
    public static void main(String[] arguments) {
        switch (arguments.length == 1 ? arguments[0] : "") {
            case PrepareDatabase.COMMAND -> System.exit(PrepareDatabase.run(System.getenv(), System.out, System.err));
            case CheckHealth.COMMAND -> System.exit(CheckHealth.run(System.getenv(), System.out, System.err));
            case VerifyHistory.COMMAND -> System.exit(VerifyHistory.run(System.getenv(), System.out, System.err));
            case RotateSigningKey.COMMAND -> System.exit(RotateSigningKey.run(System.getenv(), System.out, System.err));
            default -> SpringApplication.run(Quarterlight.class, arguments);
        }
    }

    Quarterlight() {}
}
