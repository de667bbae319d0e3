package org.quarterlight.account;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Clock;
import java.time.Duration;
import java.time.ZoneOffset;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * Attempts to sign in, counted for all nodes together. Within a quarter of an hour nobody gets in after five failures for
 * one e-mail from one address, or thirty from one address; within an hour nobody after fifty for one e-mail from wherever.
 * So a stranger who guesses shuts out nobody but their own address, unless they have many.
 */
@Component
class Attempts {
    static final Duration WINDOW = Duration.ofMinutes(15);
    static final Duration LONG_WINDOW = Duration.ofHours(1);
    static final int MOST_FOR_A_PAIR = 5;
    static final int MOST_FROM_AN_ADDRESS = 30;
    static final int MOST_FOR_AN_EMAIL = 50;

    private final JdbcClient jdbc;
    private final Clock clock;

    Attempts(JdbcClient jdbc, Clock clock) {
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** What an attempt was counted under, so that one that succeeds can be taken back. */
    record Attempt(List<Long> rows, String pair) {}

    private record Limit(String subject, Duration window, int most) {}

    /**
     * Counts an attempt before the password is looked at, or refuses it: counted afterwards, forty guesses at once would
     * all find that there had been none. Whoever comes for the same subject waits for the row, not for the password.
     * A transaction of its own: the attempt stays, whatever else is rolled back.
     */
    @Transactional(propagation = Propagation.REQUIRES_NEW)
    public Optional<Attempt> begin(String email, String address) {
        var limits = List.of(
                new Limit(digest("address:" + address), WINDOW, MOST_FROM_AN_ADDRESS),
                new Limit(digest("email:" + email), LONG_WINDOW, MOST_FOR_AN_EMAIL),
                new Limit(digest("pair:" + email + "|" + address), WINDOW, MOST_FOR_A_PAIR));
        for (var limit : limits) {
            jdbc.sql("select pg_advisory_xact_lock(hashtextextended(:subject, 0))")
                    .param("subject", limit.subject())
                    .query((row, number) -> true)
                    .list();
        }
        if (limits.stream().anyMatch(limit -> count(limit) >= limit.most())) {
            return Optional.empty();
        }
        var rows = limits.stream().map(limit -> insert(limit.subject())).toList();
        return Optional.of(new Attempt(rows, limits.getLast().subject()));
    }

    /** What was counted is taken back, and earlier failures from the same place are forgotten. */
    @Transactional(propagation = Propagation.REQUIRES_NEW)
    public void succeeded(Attempt attempt) {
        jdbc.sql("delete from sign_in_attempt where id in (:rows) or subject = :pair")
                .param("rows", attempt.rows())
                .param("pair", attempt.pair())
                .update();
    }

    @Scheduled(fixedDelayString = "PT10M", initialDelayString = "PT1M")
    @Transactional
    public void sweep() {
        jdbc.sql("delete from sign_in_attempt where failed_at < :oldest")
                .param("oldest", clock.instant().minus(LONG_WINDOW).atOffset(ZoneOffset.UTC))
                .update();
    }

    private int count(Limit limit) {
        return jdbc.sql("select count(*) from sign_in_attempt where subject = :subject and failed_at > :since")
                .param("subject", limit.subject())
                .param("since", clock.instant().minus(limit.window()).atOffset(ZoneOffset.UTC))
                .query(Integer.class)
                .single();
    }

    private long insert(String subject) {
        return jdbc.sql("insert into sign_in_attempt (subject, failed_at) values (:subject, :now) returning id")
                .param("subject", subject)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .query(Long.class)
                .single();
    }

    /** What people type into the field for their e-mail may be their password. */
    private static String digest(String subject) {
        try {
            return HexFormat.of()
                    .formatHex(MessageDigest.getInstance("SHA-256").digest(subject.getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }
}
