package org.quarterlight.web;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.springframework.core.io.Resource;
import org.springframework.core.io.support.PathMatchingResourcePatternResolver;
import org.springframework.http.CacheControl;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.servlet.resource.ResourceUrlProvider;
import tools.jackson.databind.json.JsonMapper;

/** What lets a device work without a network: the worker with the names of all files of this build, and a last page. */
@Controller
class DevicePages {
    private static final String STATIC = "static";
    private static final String WEBJAR = "/webjars/htmx.org/dist/htmx.min.js";

    private final ResourceUrlProvider addresses;
    private final JsonMapper json;
    private @Nullable String worker;

    DevicePages(ResourceUrlProvider addresses, JsonMapper json) {
        this.addresses = addresses;
        this.json = json;
    }

    /** Another build is another worker to the byte, and so the browser takes it and leaves the files of the one before. */
    @GetMapping("/worker.js")
    ResponseEntity<String> worker() {
        return ResponseEntity.ok()
                .cacheControl(CacheControl.noCache())
                .contentType(MediaType.valueOf("text/javascript;charset=UTF-8"))
                .body(script());
    }

    /** Where nothing else is kept. */
    @GetMapping("/offline")
    String offline() {
        return "offline";
    }

    private synchronized String script() {
        if (worker == null) {
            worker = made();
        }
        return Objects.requireNonNull(worker);
    }

    private String made() {
        try {
            var files = new PathMatchingResourcePatternResolver();
            var digest = MessageDigest.getInstance("SHA-256");
            var paths = new TreeSet<String>();
            for (var folder : Set.of("css", "js", "img", "fonts")) {
                for (var file : files.getResources("classpath*:/" + STATIC + "/" + folder + "/**/*.*")) {
                    if (file.isReadable()) {
                        paths.add(path(file));
                    }
                }
            }
            for (var path : paths) {
                digest.update(path.getBytes(StandardCharsets.UTF_8));
                digest.update(files.getResource("classpath:/" + STATIC + path).getContentAsByteArray());
            }
            paths.removeIf(path -> path.endsWith(".txt"));
            var assets = new TreeSet<String>();
            for (var path : paths) {
                // Modules name each other as they are called here, pages by what they hold.
                if (path.startsWith("/js/") || path.startsWith("/fonts/")) {
                    assets.add(path);
                }
                assets.add(Objects.requireNonNullElse(addresses.getForLookupPath(path), path));
            }
            assets.add(Objects.requireNonNullElse(addresses.getForLookupPath(WEBJAR), WEBJAR));
            return "const BUILD = \"" + HexFormat.of().formatHex(digest.digest(), 0, 8) + "\";\nconst ASSETS = "
                    + json.writeValueAsString(assets) + ";\n"
                    + files.getResource("classpath:/device/worker.js").getContentAsString(StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }

    private static String path(Resource file) throws IOException {
        var address = file.getURL().toString();
        return address.substring(address.lastIndexOf("/" + STATIC + "/") + STATIC.length() + 1);
    }
}
