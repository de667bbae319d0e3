package org.quarterlight.web;

import jakarta.servlet.http.HttpServletRequest;
import java.net.URI;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpHeaders;

/** The page of ours that a request came from. */
final class OwnPage {
    private OwnPage() {}

    /** Its path and query; null where the browser does not say, or it is none of ours. */
    static @Nullable String before(HttpServletRequest request) {
        var from = Objects.requireNonNullElse(
                request.getHeader("HX-Current-URL"),
                Objects.requireNonNullElse(request.getHeader(HttpHeaders.REFERER), ""));
        URI uri;
        try {
            uri = URI.create(from);
        } catch (IllegalArgumentException e) {
            return null;
        }
        var path = uri.getRawPath();
        if (!request.getServerName().equalsIgnoreCase(uri.getHost())
                || path == null
                || !path.startsWith("/")
                || path.startsWith("//")) {
            return null;
        }
        return uri.getRawQuery() == null ? path : path + "?" + uri.getRawQuery();
    }
}
