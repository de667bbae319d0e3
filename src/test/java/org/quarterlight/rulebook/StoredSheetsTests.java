package org.quarterlight.rulebook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Supplier;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** Sheets that were kept when the checks were milder: nothing fails because of them, and each is told. */
@QuarterlightTest
class StoredSheetsTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private OwnSheets own;

    @Autowired
    private Rulebook rulebook;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    @Autowired
    private JsonMapper json;

    private TestOrganisation fleet;

    @BeforeEach
    void aFleet() {
        fleet = organisations.fleet();
    }

    @Test
    void aPublishedSheetThatWouldBeRefusedTodayJudgesAsItWasPublished() {
        var id = stored(blankNote(), true);
        var kept = as(Role.MANAGER, () -> own.versions(id)).getFirst();
        assertThat(kept.needsCorrection()).isTrue();
        assertThat(kept.mistakes()).extracting(mistake -> mistake.message()).containsExactly("is blank");
        assertThat(kept.sheet().rules()).hasSameSizeAs(shipped().rules());
        as(
                Role.MANAGER,
                () -> rulebook.choose(
                        new ChooseRules(
                                Map.of(VehicleCategory.M3, List.of(id, "common-practice-roadworthiness")),
                                null,
                                null,
                                null,
                                null,
                                null,
                                null),
                        rulebook.chosen().version()));
        var judging =
                as(Role.MANAGER, () -> rulebook.sheetsFor(new VehicleFacts(VehicleCategory.M3, null), "GB", null));
        assertThat(judging).anySatisfy(sheet -> {
            assertThat(sheet.id()).isEqualTo(id);
            assertThat(sheet.zones()).isEqualTo(shipped().zones());
        });

        assertThat(text(get(Role.MANAGER, "/rule-sheets"))).contains("needs correction");
        for (var role : List.of(Role.MANAGER, Role.TECHNICIAN, Role.DRIVER)) {
            var page = get(role, "/rule-sheets/" + id);
            assertThat(page).as(role.name()).hasStatus(200);
            assertThat(text(page)).contains("Needs correction", "is blank");
        }
        assertThat(text(get(Role.MANAGER, "/rule-sheets/" + id + "/edit")))
                .contains("Some things to mend", "Is blank", "id=\"sheetNote-error\"");
        var listed = mvc.get()
                .uri("/api/v1/rule-sheets")
                .header("Authorization", fleet.bearer(Role.DRIVER))
                .exchange();
        assertThat(listed).hasStatusOk();
        assertThat(text(listed)).contains("\"message\":\"is blank\"");
    }

    @Test
    void itsNextVersionBeginsWithTheMistakeAndIsPublishedWithoutIt() {
        var id = stored(blankNote(), true);
        var draft = as(Role.MANAGER, () -> own.startVersion(id));
        assertThat(draft.needsCorrection()).isTrue();
        var refused = post(
                "/rule-sheets/" + id + "/publish",
                "validFrom",
                java.time.LocalDate.now(java.time.ZoneOffset.UTC).plusDays(30).toString(),
                "version",
                "0");
        assertThat(refused).hasStatus(422);
        assertThat(text(refused)).contains("The draft needs correction first");
        var change = "{\"note\": null}";
        assertThat(mvc.patch()
                        .uri("/api/v1/rule-sheets/" + id)
                        .header("Authorization", fleet.bearer(Role.MANAGER))
                        .header("If-Match", "\"0\"")
                        .contentType("application/json")
                        .content(change)
                        .exchange())
                .hasStatusOk();
        var day = java.time.LocalDate.now(java.time.ZoneOffset.UTC).plusDays(30).toString();
        assertThat(post("/rule-sheets/" + id + "/publish", "validFrom", day, "version", "1"))
                .hasStatus3xxRedirection();
    }

    @Test
    void whatNothingCanJudgeByAnswersNothingAndBreaksNoPage() {
        var without = content();
        ((ObjectNode) without.path("rules").get(0)).remove("limitMm");
        for (var text : List.of(
                json.writeValueAsString(without),
                "{\"id\": \"x\"}",
                json.writeValueAsString(content().put("question", "of old")))) {
            var id = stored(text, true);
            var sheet = as(Role.MANAGER, () -> rulebook.sheet(id));
            assertThat(sheet.name()).isEqualTo("A sheet that can no longer be read");
            for (var category : VehicleCategory.values()) {
                assertThat(sheet.appliesTo(new VehicleFacts(category, null))).isFalse();
            }
            assertThat(get(Role.DRIVER, "/rule-sheets/" + id)).hasStatus(200);
            assertThat(get(Role.MANAGER, "/rule-sheets/" + id + "/edit")).hasStatus(200);
        }
        assertThat(get(Role.MANAGER, "/rule-sheets")).hasStatus(200);
    }

    @Test
    void aDraftThatWouldBeRefusedTodayIsMendedInItsForm() {
        var id = stored(blankNote(), false);
        var page = get(Role.MANAGER, "/rule-sheets/" + id + "/edit");
        assertThat(page).hasStatus(200);
        assertThat(text(page)).as("beside its field").contains("Is blank", "id=\"sheetNote-error\"");
        assertThat(get(Role.DRIVER, "/rule-sheets/" + id)).hasStatus(404);
    }

    @Test
    void aPublishedSheetIsAPageForADriverAsAShippedOneIs() {
        var id = stored(json.writeValueAsString(content()), true);
        var page = get(Role.DRIVER, "/rule-sheets/" + id);
        assertThat(page).hasStatus(200);
        assertThat(text(page)).contains("Limits", "Zones", "<svg").doesNotContain("/edit", "Needs correction");
    }

    private static org.quarterlight.eligibility.Sheet shipped() {
        return Sheets.shipped().stream()
                .filter(sheet -> sheet.id().equals("common-practice-repair"))
                .findFirst()
                .orElseThrow();
    }

    private ObjectNode content() {
        return (ObjectNode) json.readTree(Sheets.textOf("common-practice-repair"));
    }

    /** Taken until notes were looked at. */
    private String blankNote() {
        return json.writeValueAsString(content().put("note", " "));
    }

    /** As a service of some time ago has left it. */
    private String stored(String text, boolean published) {
        var id = UUID.randomUUID();
        var named = json.readTree(text) instanceof ObjectNode sheet
                ? json.writerWithDefaultPrettyPrinter().writeValueAsString(sheet.put("id", id.toString()))
                : text;
        as(
                Role.MANAGER,
                () -> new TransactionTemplate(transactions).execute(status -> {
                    jdbc.sql("insert into own_sheet (id, made_at, made_by) values (:id, now(), 'Ines Falk')")
                            .param("id", id)
                            .update();
                    return jdbc.sql("""
                insert into own_sheet_version (sheet_id, number, state, content, valid_from, applies_from, changed_at,
                    changed_by, version)
                values (:id, 1, :state, :text, cast(:from as date), cast(:applies as timestamptz), now(), 'Ines Falk', 0)\
                """)
                            .param("id", id)
                            .param("state", published ? "PUBLISHED" : "DRAFT")
                            .param("text", named)
                            .param("from", published ? "2026-01-01" : null)
                            .param("applies", published ? "2026-01-01T00:00:00Z" : null)
                            .update();
                }));
        return id.toString();
    }

    private <T> T as(Role role, Supplier<T> work) {
        return TestOrganisations.as(fleet, role, work);
    }

    private MvcTestResult get(Role role, String path) {
        return mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(fleet.person(role))))
                .exchange();
    }

    private MvcTestResult post(String path, String... fields) {
        var request = mvc.post()
                .uri(path)
                .with(authentication(new ActingAuthentication(fleet.person(Role.MANAGER))))
                .with(csrf());
        for (var i = 0; i < fields.length; i += 2) {
            request.param(fields[i], fields[i + 1]);
        }
        return request.exchange();
    }

    private static String text(MvcTestResult answer) {
        try {
            return answer.getResponse().getContentAsString();
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}
