package org.quarterlight.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.net.URI;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Where whoever runs the service has said at which address people reach it, every address we write begins with that one:
 * the Host of a request is whatever its sender likes, and a cab card hangs for years. Stands after the filter that reads
 * what a proxy forwards.
 */
@Component
@Order(Ordered.HIGHEST_PRECEDENCE + 1)
class PublicAddress extends OncePerRequestFilter {
    private final @Nullable URI address;

    PublicAddress(@Value("${quarterlight.public-address:}") String address) {
        this.address = address.isBlank() ? null : checked(address.strip());
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        chain.doFilter(address == null ? request : new Reached(request, address), response);
    }

    @Override
    protected boolean shouldNotFilterErrorDispatch() {
        return false;
    }

    private static URI checked(String text) {
        var address = URI.create(text.endsWith("/") ? text.substring(0, text.length() - 1) : text);
        var scheme = String.valueOf(address.getScheme());
        if (address.getHost() == null
                || !scheme.equals("https") && !scheme.equals("http")
                || !address.getRawPath().isEmpty()) {
            throw new IllegalArgumentException(
                    "quarterlight.public-address is a scheme and a host such as https://glass.example, not " + text);
        }
        return address;
    }

    private static final class Reached extends HttpServletRequestWrapper {
        private final URI address;

        Reached(HttpServletRequest request, URI address) {
            super(request);
            this.address = address;
        }

        @Override
        public String getScheme() {
            return address.getScheme();
        }

        @Override
        public boolean isSecure() {
            return "https".equals(address.getScheme());
        }

        @Override
        public String getServerName() {
            return address.getHost();
        }

        @Override
        public int getServerPort() {
            return address.getPort() > 0 ? address.getPort() : isSecure() ? 443 : 80;
        }

        @Override
        public StringBuffer getRequestURL() {
            return new StringBuffer(address.toString()).append(getRequestURI());
        }
    }
}
