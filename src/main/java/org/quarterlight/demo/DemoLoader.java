package org.quarterlight.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.quarterlight.account.Organisations;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.annotation.Profile;
import org.springframework.context.event.EventListener;
import org.springframework.core.env.Environment;
import org.springframework.stereotype.Component;

/** Loads the scenario at the first start, and says once where to go and with which login. */
@Component
@Profile("demo")
class DemoLoader {
    private final Organisations organisations;
    private final DemoStory story;
    private final Environment environment;
    private final Path loaded;

    DemoLoader(
            Organisations organisations,
            DemoStory story,
            Environment environment,
            @Value("${quarterlight.data}") Path data) {
        this.organisations = organisations;
        this.story = story;
        this.environment = environment;
        this.loaded = data.resolve("demo-loaded");
    }

    @EventListener
    void load(ApplicationReadyEvent event) throws IOException {
        var address = "http://localhost:" + environment.getProperty("local.server.port", "8080");
        if (organisations.any()) {
            say(
                    Files.exists(loaded)
                            ? "Quarterlight is at " + address
                            : "Quarterlight is at " + address
                                    + "\nThe demo was not loaded to its end, or these organisations are your own. For a"
                                    + "\nfresh demo name an empty folder in QUARTERLIGHT_DATA.");
            return;
        }
        say("Loading the demo: two fleets, a repairer, 400 vehicles, twelve months. This takes a minute, once.");
        story.tell();
        Files.createDirectories(loaded.toAbsolutePath().getParent());
        Files.writeString(loaded, "yes\n");
        say("Quarterlight is at " + address + "\nSign in with one of these, password " + DemoCast.PASSWORD + "\n"
                + DemoCast.logins());
    }

    @SuppressWarnings("SystemOut") // the start speaks to whoever started it, not to a log
    private static void say(String text) {
        System.out.println("\n" + text + "\n");
    }
}
