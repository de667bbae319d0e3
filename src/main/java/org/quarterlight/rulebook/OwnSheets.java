package org.quarterlight.rulebook;

import jakarta.validation.Valid;
import java.time.Clock;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.BrokenSheet;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.InvalidText;
import org.quarterlight.kernel.InvalidText.Mistake;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.web.MergePatch;
import org.quarterlight.web.Today;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/**
 * Sheets that an organisation writes itself: drafts that change, and versions published from a day, which never do. Every
 * draft is a whole sheet that could judge, or it is not kept.
 */
@Service
@Validated
public class OwnSheets {
    static final int MOST_SHEETS = 100;
    private static final int YEARS_AHEAD = 5;

    private final SheetStore store;
    private final Rulebook rulebook;
    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final History history;
    private final Today today;
    private final Clock clock;

    OwnSheets(
            SheetStore store,
            Rulebook rulebook,
            JdbcClient jdbc,
            JsonMapper json,
            History history,
            Today today,
            Clock clock) {
        this.store = store;
        this.rulebook = rulebook;
        this.jdbc = jdbc;
        this.json = json;
        this.history = history;
        this.today = today;
        this.clock = clock;
    }

    /** All versions of all sheets: by sheet, the newest version first. */
    @Transactional(readOnly = true)
    public List<OwnSheet> all() {
        return SheetReaders.visible(store.all());
    }

    /** All versions of a sheet, newest first. */
    @Transactional(readOnly = true)
    public List<OwnSheet> versions(String id) {
        var versions =
                SheetReaders.visible(SheetStore.own(id).map(store::versions).orElse(List.of()));
        if (versions.isEmpty()) {
            throw new SheetNotFound(id);
        }
        return versions;
    }

    /** One version of a sheet. */
    @Transactional(readOnly = true)
    public OwnSheet version(String id, int number) {
        return SheetStore.own(id)
                .flatMap(sheet -> store.version(sheet, number))
                .filter(SheetReaders::maySee)
                .orElseThrow(() -> new SheetNotFound(id));
    }

    /** A new sheet as it was written; it gets an id and a number of ours. What it was started from has to be there. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public OwnSheet create(String text, @Nullable String startedAs) {
        check(text);
        return make(
                object(text),
                startedAs == null ? null : rulebook.sheet(startedAs).id());
    }

    /** A new sheet that says what this one says, under another name. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public OwnSheet copy(String from, @Nullable String name) {
        var sheet = rulebook.sheet(from);
        var content = object(rulebook.text(from));
        content.put("name", name == null || name.isBlank() ? ourVersionOf(sheet.name()) : name.strip());
        // Judges where somebody has chosen it, as any sheet of one's own does.
        content.remove("onlyByChoice");
        content.remove("disagreement"); // it is no reading among others any more
        return make(content, from);
    }

    /** What a sheet of one's own is called that was started from another. */
    public static String ourVersionOf(String name) {
        return "Our " + (name.length() > 100 ? name.substring(0, 100) : name);
    }

    private OwnSheet make(ObjectNode content, @Nullable String startedAs) {
        Locks.work(jdbc, "own sheets");
        if (store.count() >= MOST_SHEETS) {
            throw new TooManySheets(MOST_SHEETS);
        }
        var id = Ids.next(clock.instant());
        var sheet = numbered(content, id, 1);
        store.make(id, startedAs, by());
        store.draft(id, 1, sheet, by());
        history.add("drafted", "rule sheet", id, content.path("name").asString());
        return store.version(id, 1).orElseThrow();
    }

    /**
     * A draft of the next version, saying what the newest published one says: also what the check would refuse by now, for
     * here it is corrected.
     */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public OwnSheet startVersion(String id) {
        Locks.work(jdbc, "own sheets");
        var newest = newest(id);
        if (newest.draft()) {
            throw new DraftThere(newest.sheet().name());
        }
        var number = newest.number() + 1;
        store.draft(newest.id(), number, labelled(object(newest.text()), newest.id(), number), by());
        return store.version(newest.id(), number).orElseThrow();
    }

    /** Changes a draft by RFC 7396. Mistakes name the lines of the whole sheet as it would then read. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public OwnSheet change(String id, ObjectNode change, int version) {
        var draft = draft(id, version);
        return changed(draft, (ObjectNode) MergePatch.merged(object(draft.text()), change));
    }

    /** The same from the change's text, which is looked over as a sheet's is. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public OwnSheet change(String id, String change, int version) {
        return change(id, told(() -> Sheets.change("The change", change)), version);
    }

    /** Puts another text in a draft's place. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public OwnSheet rewrite(String id, String text, int version) {
        var draft = draft(id, version);
        check(text);
        return changed(draft, object(text));
    }

    private OwnSheet changed(OwnSheet draft, ObjectNode content) {
        var text = numbered(content, draft.id(), draft.number());
        if (!store.change(draft, text, by())) {
            throw new Stale(draft.sheet().name());
        }
        return store.version(draft.id(), draft.number()).orElseThrow();
    }

    /** Throws a draft away, and the sheet with it where nothing of it is published. What is published stays. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public void delete(String id, int version) {
        Locks.work(jdbc, "own sheets");
        var draft = draft(id, version);
        if (!store.delete(draft)) {
            throw new Stale(draft.sheet().name());
        }
        history.add(
                "deleted the draft of", "rule sheet", draft.id(), draft.sheet().name() + ", version " + draft.number());
    }

    /** Makes a draft judge from the beginning of a day on, today at the earliest. From then on it never changes. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public OwnSheet publish(String id, @Valid PublishSheet command, @Nullable Integer version) {
        var newest = newest(id);
        var draft = draft(id, version == null ? newest.version() : version);
        if (command.validFrom().isBefore(today.here())) {
            throw new Invalid("validFrom", "Today at the earliest: what was judged before stays as it was");
        }
        if (command.validFrom().isAfter(today.here().plusYears(YEARS_AHEAD))) {
            throw new Invalid("validFrom", "In " + YEARS_AHEAD + " years at the latest");
        }
        var content = object(draft.text()).put("validFrom", command.validFrom().toString());
        var text = numbered(content, draft.id(), draft.number());
        var appliesFrom = Objects.requireNonNull(today.begins(command.validFrom()));
        if (!store.publish(draft, text, command.validFrom(), appliesFrom, by())) {
            throw new Stale(draft.sheet().name());
        }
        history.add(
                "published",
                "rule sheet",
                draft.id(),
                draft.sheet().name() + ", version " + draft.number() + ", from " + command.validFrom());
        rulebook.begin();
        return store.version(draft.id(), draft.number()).orElseThrow();
    }

    /** What a sheet of this text would be, kept nowhere. */
    public Sheet read(String text) {
        check(text);
        return Sheets.read("sheet", text);
    }

    /** A text for a sheet that says nothing yet but what it asks, for a form to begin with. It is no sheet before it has a limit. */
    public String blank(Question question) {
        var blank = json.createObjectNode();
        blank.put("id", "blank")
                .put("name", "")
                .put("version", 1)
                .put("question", question.word())
                .put("validFrom", today.here().toString());
        blank.putObject("zones")
                .putArray("drivers-zone")
                .addObject()
                .putObject("band")
                .put("widthMm", 290)
                .put("within", "swept-area");
        blank.putArray("rules");
        return written(blank);
    }

    private OwnSheet newest(String id) {
        return versions(own(id)).getFirst();
    }

    private OwnSheet draft(String id, int version) {
        var newest = newest(id);
        if (!newest.draft()) {
            throw new SheetPublished(newest.sheet().name());
        }
        Stale.check(newest.sheet().name(), version, newest.version());
        return newest;
    }

    private static String own(String id) {
        Sheets.shipped().stream()
                .filter(sheet -> sheet.id().equals(id))
                .findFirst()
                .ifPresent(sheet -> {
                    throw new SheetShipped(sheet.name());
                });
        return id;
    }

    private static void check(String text) {
        told(() -> Sheets.read("The sheet", text));
    }

    private static <T> T told(Supplier<T> reading) {
        try {
            return reading.get();
        } catch (BrokenSheet e) {
            throw new InvalidText(
                    String.valueOf(e.getMessage()),
                    e.problems().stream()
                            .map(problem -> new Mistake(problem.field(), problem.line(), problem.message()))
                            .toList());
        }
    }

    /** The sheet's text under an id and number of ours; checked once more, for a change was made to it. */
    private String numbered(ObjectNode content, UUID id, int number) {
        var text = labelled(content, id, number);
        check(text);
        return text;
    }

    private String labelled(ObjectNode content, UUID id, int number) {
        content.put("id", id.toString());
        content.put("version", number);
        return written(content);
    }

    private String written(ObjectNode content) {
        return json.writerWithDefaultPrettyPrinter().writeValueAsString(content);
    }

    private ObjectNode object(String text) {
        return (ObjectNode) json.readTree(text);
    }

    private static String by() {
        return Acting.require().name();
    }
}
