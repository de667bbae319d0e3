package org.quarterlight.account;

import jakarta.validation.Valid;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.TooManyRequests;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.session.FindByIndexNameSessionRepository;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.validation.annotation.Validated;

/** What a person settles alone, whatever their organisations: their password, and who may count them as a member. */
@Service
@Validated
public class OwnAccess {
    private static final String MINE = "isAuthenticated() and !hasRole('CAB_CODE')";

    private final JdbcClient jdbc;
    private final PersonRepository persons;
    private final Passwords passwords;
    private final Attempts attempts;
    private final History history;
    private final FindByIndexNameSessionRepository<?> sessions;
    private final TransactionTemplate transaction;
    private final Clock clock;

    OwnAccess(
            JdbcClient jdbc,
            PersonRepository persons,
            Passwords passwords,
            Attempts attempts,
            History history,
            FindByIndexNameSessionRepository<?> sessions,
            PlatformTransactionManager transactions,
            Clock clock) {
        this.jdbc = jdbc;
        this.persons = persons;
        this.passwords = passwords;
        this.attempts = attempts;
        this.history = history;
        this.sessions = sessions;
        this.transaction = new TransactionTemplate(transactions);
        this.clock = clock;
    }

    /**
     * Replaces one's own password. Keys and sessions made before end, for whoever knew the old one may have made them.
     *
     * @param address where the request comes from: guesses are counted as at the sign-in
     * @param session the one that stays, null where a program asks
     */
    @PreAuthorize(MINE)
    public void changePassword(@Valid ChangePassword command, String address, @Nullable String session) {
        var id = Objects.requireNonNull(Acting.require().person());
        var person = persons.findById(id).orElseThrow(() -> new PersonNotFound(id));
        prove(person, command, address);
        transaction.executeWithoutResult(status -> {
            write(person, command.next());
            history.add("changed the password of", "member", id, person.name());
        });
        endSessions(person, session);
    }

    /** Replaces the password that somebody else gave; asks no right, for the password is the proof. */
    public void replaceFirst(String typedEmail, @Valid ChangePassword command, String address) {
        var email = typedEmail.trim().toLowerCase(Locale.ROOT);
        var person =
                email.indexOf('\0') >= 0 ? null : persons.findByEmail(email).orElse(null);
        if (person == null) {
            count(email, address);
            passwords.pretend(command.present());
            throw wrong();
        }
        prove(person, command, address);
        transaction.executeWithoutResult(status -> write(person, command.next()));
        endSessions(person, null);
    }

    /** Organisations that wait for one's consent. */
    @Transactional(readOnly = true)
    @PreAuthorize(MINE)
    public List<Invitation> invitations() {
        return jdbc.sql("""
            select o.id, o.name, m.roles from membership m join organisation o on o.id = m.tenant_id
            where m.person_id = :person and m.invited and cardinality(m.roles) > 0 order by o.name, o.id\
            """)
                .param("person", Acting.require().person())
                .query((row, number) -> new Invitation(
                        row.getObject("id", UUID.class), row.getString("name"), MembershipRows.roles(row)))
                .list();
    }

    /** From now on the person counts as a member there. */
    @Transactional
    @PreAuthorize(MINE)
    public void accept(UUID organisation) {
        answer("update membership set invited = false, version = version + 1", organisation);
    }

    @Transactional
    @PreAuthorize(MINE)
    public void decline(UUID organisation) {
        answer("update membership set invited = false, roles = '{}', version = version + 1", organisation);
    }

    private void answer(String update, UUID organisation) {
        var changed = jdbc.sql(update
                        + " where tenant_id = :organisation and person_id = :person and invited and"
                        + " cardinality(roles) > 0")
                .param("organisation", organisation)
                .param("person", Acting.require().person())
                .update();
        if (changed == 0) {
            throw new Invalid("organisation", "This organisation waits for no answer of yours");
        }
    }

    /** Before any transaction, for an attempt is counted in one of its own, which takes a connection besides. */
    private void prove(Person person, ChangePassword command, String address) {
        var attempt = count(person.email(), address);
        if (!passwords.matches(command.present(), person.passwordHash())) {
            throw wrong();
        }
        attempts.succeeded(attempt);
        if (command.next().equals(command.present())) {
            throw new Invalid("next", "Choose another than the present one");
        }
    }

    private void write(Person person, String next) {
        jdbc.sql("""
            update person set password_hash = :hash, password_is_first = false, password_changed_at = :now
            where id = :id\
            """)
                .param("hash", passwords.hash("next", next))
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("id", person.getId())
                .update();
    }

    private void endSessions(Person person, @Nullable String stays) {
        sessions.findByPrincipalName(person.getId().toString()).keySet().stream()
                .filter(each -> !each.equals(stays))
                .forEach(sessions::deleteById);
    }

    private Attempts.Attempt count(String email, String address) {
        return attempts.begin(email, address).orElseThrow(() -> new TooManyRequests(Attempts.WINDOW));
    }

    private static Invalid wrong() {
        return new Invalid("present", "This is not the present password");
    }
}
