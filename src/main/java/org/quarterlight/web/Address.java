package org.quarterlight.web;

import jakarta.servlet.http.HttpServletRequest;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import org.jspecify.annotations.Nullable;
import org.springframework.web.util.UriUtils;

/** The address of the list that is being shown, changed in one place. */
public final class Address {
    private static final String CURSOR = "after";

    private final HttpServletRequest request;

    Address(HttpServletRequest request) {
        this.request = request;
    }

    /** Without this filter, from the first page. */
    public String without(String name) {
        return present(name, null);
    }

    /** The next part of the list, as it is filtered and sorted now. */
    public String after(String cursor) {
        return present(CURSOR, cursor);
    }

    /** The same filters at another address, from the first row. */
    public String elsewhere(String path) {
        return request.getContextPath() + path + query(CURSOR, null);
    }

    private String present(String left, @Nullable String cursor) {
        return request.getRequestURI() + query(left, cursor);
    }

    private String query(String left, @Nullable String cursor) {
        var query = new ArrayList<String>();
        request.getParameterMap().forEach((name, values) -> {
            if (!name.equals(left) && !name.equals(CURSOR)) {
                for (var value : values) {
                    if (!value.isEmpty()) {
                        query.add(pair(name, value));
                    }
                }
            }
        });
        if (cursor != null) {
            query.add(pair(CURSOR, cursor));
        }
        return query.isEmpty() ? "" : "?" + String.join("&", query);
    }

    private static String pair(String name, String value) {
        return UriUtils.encode(name, StandardCharsets.UTF_8) + "=" + UriUtils.encode(value, StandardCharsets.UTF_8);
    }
}
