package org.quarterlight.web;

import jakarta.servlet.DispatcherType;
import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import org.quarterlight.tenancy.Acting;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.InsufficientAuthenticationException;
import org.springframework.security.authentication.LockedException;
import org.springframework.security.authentication.ProviderManager;
import org.springframework.security.config.annotation.method.configuration.EnableMethodSecurity;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.web.AuthenticationEntryPoint;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.security.web.access.AccessDeniedHandler;
import org.springframework.security.web.access.intercept.AuthorizationFilter;
import org.springframework.security.web.authentication.AuthenticationFailureHandler;
import org.springframework.security.web.authentication.LoginUrlAuthenticationEntryPoint;
import org.springframework.security.web.csrf.CookieCsrfTokenRepository;
import org.springframework.security.web.csrf.CsrfException;
import org.springframework.security.web.header.writers.CrossOriginOpenerPolicyHeaderWriter.CrossOriginOpenerPolicy;
import org.springframework.security.web.header.writers.ReferrerPolicyHeaderWriter.ReferrerPolicy;
import org.springframework.security.web.savedrequest.HttpSessionRequestCache;
import org.springframework.security.web.servlet.util.matcher.PathPatternRequestMatcher;

/** Who gets in, and what a browser may do with a page. What each role may do stands at the services' verbs. */
@Configuration(proxyBeanMethods = false)
@EnableMethodSecurity
class SecurityConfiguration {
    private static final String CONTENT_POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; "
            + "img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; "
            + "form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

    /** For answers that the chain below has not seen. */
    static void addPolicy(HttpServletResponse response) {
        response.setHeader("Content-Security-Policy", CONTENT_POLICY);
        response.setHeader("X-Content-Type-Options", "nosniff");
        response.setHeader("Referrer-Policy", "same-origin");
    }

    @Bean
    SecurityFilterChain chain(
            HttpSecurity http,
            List<RequestIdentity> identities,
            Memberships memberships,
            AuthenticationProvider passwords,
            ProblemWriter problems) {
        var entry = entry(problems);
        // Of its own, for the usual one asks a second time what failed, and a failure would count twice.
        http.authenticationManager(new ProviderManager(passwords))
                // A streamed answer ends with another dispatch of a request that was let in already.
                .authorizeHttpRequests(paths ->
                        paths.dispatcherTypeMatchers(DispatcherType.ASYNC).permitAll())
                .authorizeHttpRequests(paths -> paths.requestMatchers(
                                "/sign-in",
                                "/first-password",
                                "/css/**",
                                "/js/**",
                                "/fonts/**",
                                "/img/**",
                                "/webjars/**",
                                "/favicon.ico",
                                "/error",
                                "/actuator/health/**",
                                "/api/openapi.json",
                                "/glossary",
                                "/components",
                                "/problems/**",
                                "/r/**",
                                "/c/**",
                                "/.well-known/jwks.json",
                                "/calendars/**")
                        .permitAll()
                        .requestMatchers("/operator/**", "/api/v1/organisations/**", "/api/v1/signing-keys/**")
                        .hasRole("OPERATOR")
                        .anyRequest()
                        .authenticated())
                .formLogin(form -> form.loginPage("/sign-in")
                        .usernameParameter("email")
                        .defaultSuccessUrl("/")
                        .failureHandler(backToSignIn())
                        .permitAll())
                .logout(out -> out.logoutUrl("/sign-out").logoutSuccessUrl("/sign-in?out"))
                .requestCache(cache -> cache.requestCache(pagesOnly()))
                // A program's secret cannot be sent by another site's page, a session's cookie can.
                .csrf(csrf -> csrf.csrfTokenRepository(new CookieCsrfTokenRepository())
                        .ignoringRequestMatchers(request -> request.getHeader(HttpHeaders.AUTHORIZATION) != null
                                && request.getRequestURI().startsWith("/api/")))
                .exceptionHandling(
                        errors -> errors.authenticationEntryPoint(entry).accessDeniedHandler(denied(problems, entry)))
                .addFilterBefore(new ActingFilter(identities, memberships), AuthorizationFilter.class)
                .headers(headers -> headers.contentSecurityPolicy(policy -> policy.policyDirectives(CONTENT_POLICY))
                        .referrerPolicy(referrer -> referrer.policy(ReferrerPolicy.SAME_ORIGIN))
                        .crossOriginOpenerPolicy(opener -> opener.policy(CrossOriginOpenerPolicy.SAME_ORIGIN))
                        .permissionsPolicyHeader(
                                permissions -> permissions.policy("camera=(self), geolocation=(self), microphone=()")));
        return http.build();
    }

    /** After signing in a person lands on the page they asked for, never on a piece of it or on an API answer. */
    private static HttpSessionRequestCache pagesOnly() {
        var cache = new HttpSessionRequestCache();
        cache.setRequestMatcher(request -> "GET".equals(request.getMethod())
                && request.getHeader("HX-Request") == null
                && !request.getRequestURI().startsWith("/api/")
                && String.valueOf(request.getHeader(HttpHeaders.ACCEPT)).contains("text/html"));
        return cache;
    }

    private static AuthenticationFailureHandler backToSignIn() {
        return (request, response, failure) -> response.sendRedirect(
                failure instanceof LockedException
                        ? "/sign-in?locked"
                        : failure instanceof FirstPassword ? "/first-password" : "/sign-in?failed");
    }

    private static AuthenticationEntryPoint entry(ProblemWriter problems) {
        var api = PathPatternRequestMatcher.withDefaults().matcher("/api/**");
        var page = new LoginUrlAuthenticationEntryPoint("/sign-in");
        page.setFavorRelativeUris(true);
        return (request, response, failure) -> {
            if (failure instanceof TooManyRequests many) {
                response.setHeader(
                        HttpHeaders.RETRY_AFTER, Long.toString(many.patience().toSeconds()));
                if (api.matches(request)) {
                    problems.write(response, HttpStatus.TOO_MANY_REQUESTS, "locked", String.valueOf(many.getMessage()));
                } else {
                    response.sendError(HttpStatus.TOO_MANY_REQUESTS.value());
                }
            } else if (api.matches(request)) {
                response.setHeader(HttpHeaders.WWW_AUTHENTICATE, "Bearer realm=\"Quarterlight\"");
                if (failure instanceof LockedException) {
                    response.setHeader(HttpHeaders.RETRY_AFTER, "900");
                    problems.write(
                            response,
                            HttpStatus.TOO_MANY_REQUESTS,
                            "locked",
                            "Too many failed attempts. Try again in 15 minutes.");
                } else if (failure instanceof FirstPassword) {
                    problems.write(
                            response,
                            HttpStatus.UNAUTHORIZED,
                            "first-password",
                            "Replace the first password at /first-password, then come again.");
                } else {
                    problems.write(
                            response,
                            HttpStatus.UNAUTHORIZED,
                            "not-signed-in",
                            "Send a valid bearer token, or sign in.");
                }
            } else if (request.getHeader("HX-Request") != null) {
                response.setHeader("HX-Redirect", "/sign-in");
                response.setStatus(HttpStatus.UNAUTHORIZED.value());
            } else {
                page.commence(request, response, failure);
            }
        };
    }

    private static AccessDeniedHandler denied(ProblemWriter problems, AuthenticationEntryPoint entry) {
        return (request, response, failure) -> {
            var api = request.getRequestURI().startsWith("/api/");
            if (api && Acting.current().isEmpty()) {
                // Stopped for want of a page's token, but what is missing is a key.
                entry.commence(request, response, new InsufficientAuthenticationException("nobody signed in", failure));
            } else if (api && failure instanceof CsrfException) {
                problems.write(
                        response,
                        HttpStatus.FORBIDDEN,
                        "csrf",
                        "A change by session needs the page's token. Load the page again.");
            } else if (api) {
                problems.write(
                        response, HttpStatus.FORBIDDEN, "role", "Your role in this organisation does not allow this.");
            } else {
                response.sendError(HttpStatus.FORBIDDEN.value());
            }
        };
    }
}
