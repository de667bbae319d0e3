package org.quarterlight.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ReadListener;
import jakarta.servlet.ServletException;
import jakarta.servlet.ServletInputStream;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import jakarta.servlet.http.HttpServletResponse;
import java.io.BufferedReader;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Clock;
import java.time.Duration;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.TenantId;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionStatus;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.web.filter.OncePerRequestFilter;
import org.springframework.web.util.ContentCachingResponseWrapper;
import tools.jackson.core.type.TypeReference;
import tools.jackson.databind.json.JsonMapper;

/**
 * A POST that carries an Idempotency-Key is done once: its answer is written in the very transaction of what it changed,
 * so either both are there or neither, whenever the power goes. The same key and body get the same answer for 24 hours;
 * a refusal changed nothing and is not kept. Forms carry the key in a hidden field.
 */
@Component
@Order(10)
class Idempotency extends OncePerRequestFilter {
    /** The header, and in a form the hidden field. */
    static final String HEADER = "Idempotency-Key";

    static final String FIELD = "idempotencyKey";

    /** Set on a request whose answer holds a secret: only that it was done is kept. */
    static final String SECRET = Idempotency.class.getName() + ".secret";

    /** Set on a request that was refused with an answer that does not look so, a way back to the form. */
    static final String REFUSED = Idempotency.class.getName() + ".refused";

    private static final Logger LOG = LoggerFactory.getLogger(Idempotency.class);
    private static final Duration KEPT = Duration.ofHours(24);
    /** How long the second click on a page's button waits for the first. */
    private static final Duration PATIENCE = Duration.ofSeconds(10);

    private static final Duration BETWEEN_LOOKS = Duration.ofMillis(100);
    private static final int LONGEST_KEY = 200;
    private static final int LARGEST_BODY = 1 << 20;
    private static final String[] HEADERS = {HttpHeaders.LOCATION, HttpHeaders.ETAG, HttpHeaders.CONTENT_TYPE};

    private final TransactionTemplate transaction;
    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final ProblemWriter problems;
    private final Clock clock;

    Idempotency(
            PlatformTransactionManager transactions,
            JdbcClient jdbc,
            JsonMapper json,
            ProblemWriter problems,
            Clock clock) {
        this.transaction = new TransactionTemplate(transactions);
        this.jdbc = jdbc;
        this.json = json;
        this.problems = problems;
        this.clock = clock;
    }

    private record Answer(byte[] digest, boolean secret, int status, String headers, byte[] body) {}

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        var acting = Acting.current();
        if (!"POST".equals(request.getMethod()) || acting.isEmpty()) {
            chain.doFilter(request, response);
            return;
        }
        var key = key(request);
        if (key == null) {
            chain.doFilter(request, response);
            return;
        }
        if (key.length() > LONGEST_KEY || key.chars().anyMatch(Character::isISOControl)) {
            problems.write(
                    response,
                    HttpStatus.BAD_REQUEST,
                    "idempotency-key",
                    "An Idempotency-Key has at most " + LONGEST_KEY + " characters, all of them to be seen");
            return;
        }
        var repeatable = repeatable(request);
        if (repeatable == null) {
            problems.write(response, HttpStatus.CONTENT_TOO_LARGE, "too-large", "The body is larger than one megabyte");
            return;
        }
        var page = !request.getRequestURI().startsWith("/api/");
        var until = clock.instant().plus(PATIENCE);
        while (true) {
            var answer = new ContentCachingResponseWrapper(response);
            var met = inTransaction(acting.get(), key, repeatable, answer, chain);
            switch (met) {
                case Met.Answered() -> answer.copyBodyToResponse();
                case Met.Running()
                when page && clock.instant().isBefore(until) -> {
                    // Whoever clicked twice gets what the first click made, as soon as it is there.
                    if (!rested()) {
                        return;
                    }
                    continue;
                }
                case Met.Running() when page -> show(SentAlready.RUNNING, null, request, response, chain);
                case Met.Running() ->
                    problems.write(
                            response,
                            HttpStatus.CONFLICT,
                            "still-running",
                            "The first request with this Idempotency-Key is still running");
                case Met.Other(var before)
                when page -> show(SentAlready.CHANGED, location(before), request, response, chain);
                case Met.Other(var before) ->
                    problems.write(
                            response,
                            HttpStatus.UNPROCESSABLE_CONTENT,
                            "idempotency-key",
                            "This Idempotency-Key was used for another request");
                case Met.Secret() when page -> show(SentAlready.SECRET, null, request, response, chain);
                case Met.Secret() ->
                    problems.write(
                            response, HttpStatus.CONFLICT, "already-done", "Already done; secrets are shown once");
            }
            return;
        }
    }

    /** How a key was met. */
    private sealed interface Met {
        /** By the first answer, now or again. */
        record Answered() implements Met {}

        /** While the first request with it runs. */
        record Running() implements Met {}

        /** With another body or at another address. */
        record Other(Answer before) implements Met {}

        /** Again, where the answer was a secret. */
        record Secret() implements Met {}
    }

    private Met inTransaction(
            Acting acting,
            String key,
            HttpServletRequest request,
            ContentCachingResponseWrapper answer,
            FilterChain chain)
            throws ServletException, IOException {
        try {
            return Objects.requireNonNull(transaction.execute(status -> {
                try {
                    return handle(acting, key, request, answer, chain, status);
                } catch (IOException e) {
                    throw new UncheckedIOException(e);
                } catch (ServletException e) {
                    throw new Carried(e);
                }
            }));
        } catch (UncheckedIOException e) {
            throw Objects.requireNonNull(e.getCause());
        } catch (Carried e) {
            throw e.exception;
        }
    }

    private static boolean rested() {
        try {
            Thread.sleep(BETWEEN_LOOKS);
            return true;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return false;
        }
    }

    /** A page in the place of problem details: the form was sent already. */
    private static void show(
            String why,
            @Nullable String location,
            HttpServletRequest request,
            HttpServletResponse response,
            FilterChain chain)
            throws IOException, ServletException {
        var page = new PageRequest(request, SentAlready.PATH);
        page.setAttribute(SentAlready.WHY, why);
        page.setAttribute(SentAlready.MADE, location);
        page.setAttribute(SentAlready.FORM, OwnPage.before(request));
        chain.doFilter(page, response);
    }

    private @Nullable String location(Answer before) {
        return json.readValue(before.headers(), new TypeReference<Map<String, String>>() {})
                .get(HttpHeaders.LOCATION);
    }

    /** What is not to stay is rolled back. */
    private Met handle(
            Acting acting,
            String key,
            HttpServletRequest request,
            ContentCachingResponseWrapper response,
            FilterChain chain,
            TransactionStatus transaction)
            throws IOException, ServletException {
        var tenant = acting.organisation();
        var person = acting.person() == null ? acting.name() : acting.person().toString();
        var free = jdbc.sql("select pg_try_advisory_xact_lock(hashtextextended(:key, 0))")
                .param("key", tenant + "|" + person + "|" + key)
                .query(Boolean.class)
                .single();
        if (!free) {
            transaction.setRollbackOnly();
            return new Met.Running();
        }
        var before = kept(tenant, person, key);
        if (before != null) {
            transaction.setRollbackOnly();
            return replay(before, digest(request), response);
        }
        // The files of a form are gone once it was handled; a list is there only while it is read.
        var early = request instanceof Digested ? null : digest(request);
        chain.doFilter(request, response);
        if (response.getStatus() >= 400 || request.getAttribute(REFUSED) != null) {
            transaction.setRollbackOnly();
            return new Met.Answered();
        }
        if (transaction.isRollbackOnly()) {
            // A service refused, and whoever asked it made another answer of that.
            LOG.warn("{} was answered {} though nothing of it is kept", request.getRequestURI(), response.getStatus());
            return new Met.Answered();
        }
        keep(tenant, person, key, early == null ? digest(request) : early, request, response);
        return new Met.Answered();
    }

    private @Nullable Answer kept(TenantId tenant, String person, String key) {
        var oldest = clock.instant().minus(KEPT).atOffset(java.time.ZoneOffset.UTC);
        jdbc.sql("delete from idempotency_key where tenant_id = :tenant and created_at < :oldest")
                .param("tenant", tenant.value())
                .param("oldest", oldest)
                .update();
        return jdbc.sql("""
            select digest, secret, status, headers, body from idempotency_key
            where tenant_id = :tenant and person = :person and key = :key\
            """)
                .param("tenant", tenant.value())
                .param("person", person)
                .param("key", key)
                .query((row, number) -> new Answer(
                        row.getBytes("digest"),
                        row.getBoolean("secret"),
                        row.getInt("status"),
                        row.getString("headers"),
                        row.getBytes("body")))
                .optional()
                .orElse(null);
    }

    private Met replay(Answer before, byte[] digest, HttpServletResponse response) throws IOException {
        if (!MessageDigest.isEqual(before.digest(), digest)) {
            return new Met.Other(before);
        }
        if (before.secret()) {
            return new Met.Secret();
        }
        response.setStatus(before.status());
        json.readValue(before.headers(), new TypeReference<Map<String, String>>() {})
                .forEach(response::setHeader);
        response.getOutputStream().write(before.body());
        return new Met.Answered();
    }

    private void keep(
            TenantId tenant,
            String person,
            String key,
            byte[] digest,
            HttpServletRequest request,
            ContentCachingResponseWrapper response) {
        var secret = request.getAttribute(SECRET) != null;
        var headers = new TreeMap<String, String>();
        for (var name : HEADERS) {
            var value = response.getHeader(name);
            if (value != null) {
                headers.put(name, value);
            }
        }
        jdbc.sql("""
            insert into idempotency_key (tenant_id, person, key, digest, secret, status, headers, body, created_at)
            values (:tenant, :person, :key, :digest, :secret, :status, cast(:headers as jsonb), :body, :now)\
            """)
                .param("tenant", tenant.value())
                .param("person", person)
                .param("key", key)
                .param("digest", digest)
                .param("secret", secret)
                .param("status", response.getStatus())
                .param("headers", json.writeValueAsString(headers))
                .param("body", secret ? new byte[0] : response.getContentAsByteArray())
                .param("now", clock.instant().atOffset(java.time.ZoneOffset.UTC))
                .update();
    }

    private static @Nullable String key(HttpServletRequest request) {
        var header = request.getHeader(HEADER);
        if (header != null) {
            return header.isBlank() ? null : header.trim();
        }
        var type = String.valueOf(request.getContentType());
        if (type.startsWith("application/x-www-form-urlencoded") || type.startsWith("multipart/form-data")) {
            var field = request.getParameter(FIELD);
            return field == null || field.isBlank() ? null : field;
        }
        return null;
    }

    /**
     * The request with its JSON in memory, null where that is too large. The container keeps forms and their files; what is
     * anything else, a list of vehicles, may be larger than memory and is digested while it is read.
     */
    private static @Nullable HttpServletRequest repeatable(HttpServletRequest request) throws IOException {
        var type = String.valueOf(request.getContentType());
        if (type.startsWith("application/x-www-form-urlencoded") || type.startsWith("multipart/")) {
            return request;
        }
        if (!type.contains("json")) {
            return new Digested(request, sha256());
        }
        var body = request.getInputStream().readNBytes(LARGEST_BODY + 1);
        return body.length > LARGEST_BODY ? null : new Remembered(request, body);
    }

    /** What makes two requests the same: address, and body, form fields or the files sent. Reads what nobody has read. */
    private static byte[] digest(HttpServletRequest request) throws IOException, ServletException {
        var digest = sha256();
        update(digest, request.getRequestURI() + "?" + request.getQueryString());
        var type = String.valueOf(request.getContentType());
        if (request instanceof Remembered remembered) {
            digest.update(remembered.body);
        } else if (type.startsWith("application/x-www-form-urlencoded")) {
            var fields = new TreeMap<>(new HashMap<>(request.getParameterMap()));
            fields.remove("_csrf");
            fields.forEach((name, values) -> update(digest, name + "=" + String.join("\u0000", values)));
        } else if (type.startsWith("multipart/")) {
            for (var part : request.getParts()) {
                if (part.getName().equals("_csrf")) {
                    continue;
                }
                update(digest, part.getName());
                try (var in = new DigestInputStream(part.getInputStream(), digest)) {
                    in.transferTo(OutputStream.nullOutputStream());
                }
            }
        } else if (request instanceof Digested digested) {
            update(digest, type);
            digest.update(digested.whole());
        }
        return digest.digest();
    }

    private static void update(MessageDigest digest, String text) {
        digest.update(text.getBytes(StandardCharsets.UTF_8));
        digest.update((byte) 0);
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }

    /** Takes a checked exception through a lambda. */
    private static final class Carried extends RuntimeException {
        private final transient ServletException exception;

        Carried(ServletException exception) {
            super(exception);
            this.exception = exception;
        }
    }

    private static final class Remembered extends HttpServletRequestWrapper {
        private final byte[] body;

        Remembered(HttpServletRequest request, byte[] body) {
            super(request);
            this.body = body;
        }

        @Override
        public ServletInputStream getInputStream() {
            var in = new ByteArrayInputStream(body);
            return new ServletInputStream() {
                @Override
                public int read() {
                    return in.read();
                }

                @Override
                public boolean isFinished() {
                    return in.available() == 0;
                }

                @Override
                public boolean isReady() {
                    return true;
                }

                @Override
                public void setReadListener(ReadListener listener) {
                    throw new IllegalStateException("read at once");
                }
            };
        }

        @Override
        public BufferedReader getReader() {
            return new BufferedReader(new InputStreamReader(getInputStream(), StandardCharsets.UTF_8));
        }
    }

    /** Digests its body as it is read. Closing it closes nothing, for what nobody has read yet belongs to the digest too. */
    private static final class Digested extends HttpServletRequestWrapper {
        private final ServletInputStream in;
        private final MessageDigest digest;

        Digested(HttpServletRequest request, MessageDigest digest) throws IOException {
            super(request);
            this.digest = digest;
            var body = request.getInputStream();
            this.in = new ServletInputStream() {
                @Override
                public int read() throws IOException {
                    var one = body.read();
                    if (one >= 0) {
                        digest.update((byte) one);
                    }
                    return one;
                }

                @Override
                public int read(byte[] into, int offset, int length) throws IOException {
                    var read = body.read(into, offset, length);
                    if (read > 0) {
                        digest.update(into, offset, read);
                    }
                    return read;
                }

                @Override
                public boolean isFinished() {
                    return body.isFinished();
                }

                @Override
                public boolean isReady() {
                    return body.isReady();
                }

                @Override
                public void setReadListener(ReadListener listener) {
                    throw new IllegalStateException("read at once");
                }
            };
        }

        byte[] whole() throws IOException {
            in.transferTo(OutputStream.nullOutputStream());
            return digest.digest();
        }

        @Override
        public ServletInputStream getInputStream() {
            return in;
        }

        @Override
        public BufferedReader getReader() {
            return new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
        }
    }
}
