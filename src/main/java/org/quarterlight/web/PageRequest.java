package org.quarterlight.web;

import jakarta.servlet.DispatcherType;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import jakarta.servlet.http.Part;
import java.util.Collection;
import java.util.Collections;
import java.util.Enumeration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** Another page read within a request that sent a form: nothing of the form reaches it, and no attribute it sets stays. */
final class PageRequest extends HttpServletRequestWrapper {
    private final String path;
    private final Map<String, Object> attributes = new HashMap<>();

    PageRequest(HttpServletRequest request, String path) {
        super(request);
        this.path = path;
    }

    @Override
    public String getMethod() {
        return "GET";
    }

    @Override
    public String getRequestURI() {
        return path;
    }

    @Override
    public StringBuffer getRequestURL() {
        return new StringBuffer(path);
    }

    @Override
    public String getServletPath() {
        return path;
    }

    @Override
    public @Nullable String getPathInfo() {
        return null;
    }

    @Override
    public @Nullable String getQueryString() {
        return null;
    }

    @Override
    public DispatcherType getDispatcherType() {
        return DispatcherType.REQUEST;
    }

    @Override
    public @Nullable String getContentType() {
        return null;
    }

    @Override
    public @Nullable String getParameter(String name) {
        return null;
    }

    @Override
    public String @Nullable [] getParameterValues(String name) {
        return null;
    }

    @Override
    public Map<String, String[]> getParameterMap() {
        return Map.of();
    }

    @Override
    public Enumeration<String> getParameterNames() {
        return Collections.emptyEnumeration();
    }

    @Override
    public Collection<Part> getParts() {
        return List.of();
    }

    @Override
    public @Nullable Object getAttribute(String name) {
        if (attributes.containsKey(name)) {
            return attributes.get(name);
        }
        // How the form's own address was read is no matter of this page.
        return name.startsWith("org.springframework.web.servlet.HandlerMapping.")
                        || name.startsWith("org.springframework.web.util.ServletRequestPathUtils.")
                        || name.startsWith("org.springframework.web.servlet.View.")
                ? null
                : super.getAttribute(name);
    }

    @Override
    public void setAttribute(String name, @Nullable Object value) {
        if (value == null) {
            attributes.remove(name);
        } else {
            attributes.put(name, value);
        }
    }

    @Override
    public void removeAttribute(String name) {
        attributes.remove(name);
    }
}
