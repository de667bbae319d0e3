package org.quarterlight.account;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Clock;
import java.time.Duration;
import java.time.ZoneOffset;
import java.util.HexFormat;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * Failed sign-ins, counted for all nodes together: after five for one e-mail, or thirty from one address, within a
 * quarter of an hour, nobody gets in that way until the oldest is a quarter of an hour old.
 */
@Component
class Attempts {
    static final Duration WINDOW = Duration.ofMinutes(15);
    static final int MOST_FOR_AN_EMAIL = 5;
    static final int MOST_FROM_AN_ADDRESS = 30;

    private final JdbcClient jdbc;
    private final Clock clock;

    Attempts(JdbcClient jdbc, Clock clock) {
        this.jdbc = jdbc;
        this.clock = clock;
    }

    @Transactional(readOnly = true)
    public boolean tooMany(String email, String address) {
        return failures("email:" + email) >= MOST_FOR_AN_EMAIL
                || failures("address:" + address) >= MOST_FROM_AN_ADDRESS;
    }

    /** Counts in a transaction of its own: the failure stays, whatever else is rolled back. */
    @Transactional(propagation = Propagation.REQUIRES_NEW)
    public void failed(String email, String address) {
        for (var subject : new String[] {"email:" + email, "address:" + address}) {
            jdbc.sql("insert into sign_in_attempt (subject, failed_at) values (:subject, :now)")
                    .param("subject", digest(subject))
                    .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                    .update();
        }
    }

    @Transactional(propagation = Propagation.REQUIRES_NEW)
    public void succeeded(String email) {
        jdbc.sql("delete from sign_in_attempt where subject = :subject")
                .param("subject", digest("email:" + email))
                .update();
    }

    @Scheduled(fixedDelayString = "PT10M", initialDelayString = "PT1M")
    @Transactional
    public void sweep() {
        jdbc.sql("delete from sign_in_attempt where failed_at < :oldest")
                .param("oldest", clock.instant().minus(WINDOW).atOffset(ZoneOffset.UTC))
                .update();
    }

    private int failures(String subject) {
        return jdbc.sql("select count(*) from sign_in_attempt where subject = :subject and failed_at > :since")
                .param("subject", digest(subject))
                .param("since", clock.instant().minus(WINDOW).atOffset(ZoneOffset.UTC))
                .query(Integer.class)
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
