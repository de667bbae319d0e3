package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import com.palantir.javaformat.java.Formatter;
import com.palantir.javaformat.java.FormatterException;
import com.palantir.javaformat.java.ImportOrderer;
import com.palantir.javaformat.java.JavaFormatterOptions;
import com.palantir.javaformat.java.JavaFormatterOptions.Style;
import com.palantir.javaformat.java.RemoveUnusedImports;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import org.junit.jupiter.api.Test;

/**
 * The formatter runs in the JDK of the tests, so it is never skipped where Maven itself runs on an older one.
 * {@code mvn test -Dtest=FormatTests -Dformat=apply} writes what it asks for.
 */
class FormatTests {
    private final Formatter formatter = Formatter.createFormatter(
            JavaFormatterOptions.builder().style(Style.PALANTIR).build());

    @Test
    void everySourceIsFormatted() throws IOException, FormatterException {
        var different = new ArrayList<Path>();
        try (var files = Files.walk(Path.of("src"))) {
            for (var file : files.filter(path -> path.toString().endsWith(".java"))
                    .sorted()
                    .toList()) {
                var source = Files.readString(file);
                var formatted = formatter.formatSource(
                        ImportOrderer.reorderImports(RemoveUnusedImports.removeUnusedImports(source), Style.PALANTIR));
                if (!formatted.equals(source)) {
                    different.add(file);
                    if ("apply".equals(System.getProperty("format"))) {
                        Files.writeString(file, formatted);
                    }
                }
            }
        }
        assertThat(different)
                .as("format them with mvn test -Dtest=FormatTests -Dformat=apply")
                .isEmpty();
    }
}
