package org.quarterlight.rulebook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

/** The pages of rules: read by everybody of the fleet, written by a manager in a form without any script. */
@QuarterlightTest
class SheetPagesTests {

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private OwnSheets own;

    private TestOrganisation fleet;

    @BeforeEach
    void aFleet() {
        fleet = organisations.fleet();
    }

    @Test
    void everyRoleReadsTheListAsFarAsItMayAndEverySheetItMay() {
        for (var role : List.of(Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN)) {
            var list = get(role, "/rule-sheets");
            assertThat(list).as(role.name()).hasStatus(200);
            assertThat(text(list).contains("/rule-sheets/blank-repairable/edit"))
                    .isEqualTo(role == Role.MANAGER);
            assertThat(text(list).contains("What it costs you")).isEqualTo(role == Role.MANAGER);
        }
        assertThat(get(Role.DRIVER, "/rule-sheets")).hasStatus(403);
        for (var role : List.of(Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN, Role.DRIVER)) {
            var sheet = get(role, "/rule-sheets/bs-au-242b-2022");
            assertThat(sheet).as(role.name()).hasStatus(200);
            assertThat(text(sheet).contains("/rule-sheets/bs-au-242b-2022/edit"))
                    .isEqualTo(role == Role.MANAGER);
        }
    }

    @Test
    void everyShippedSheetIsShownWithItsZonesAndTheDriversZoneHatched() {
        for (var sheet : Sheets.shipped()) {
            var page = get(Role.MANAGER, "/rule-sheets/" + sheet.id());
            assertThat(page).as(sheet.id()).hasStatus(200);
            assertThat(text(page)).contains("<svg");
        }
        assertThat(text(get(Role.MANAGER, "/rule-sheets/bs-au-242b-2022"))).contains("drivers-zone");
    }

    @Test
    void onlyAManagerOpensTheFormAndTriesASheet() {
        for (var role : List.of(Role.DISPATCHER, Role.TECHNICIAN, Role.DRIVER, Role.ADMINISTRATOR)) {
            for (var path : List.of("/edit", "/preview")) {
                assertThat(get(role, "/rule-sheets/bs-au-242b-2022" + path))
                        .as(role + path)
                        .hasStatus(403);
            }
            assertThat(post(role, "/rule-sheets/bs-au-242b-2022/edit", List.of("name", "X")))
                    .hasStatus(403);
            assertThat(post(role, "/rule-sheets/bs-au-242b-2022/preview", List.of()))
                    .hasStatus(403);
            assertThat(post(role, "/rule-sheets/cost-rates", List.of())).hasStatus(403);
        }
    }

    @Test
    void theFormOfAShippedSheetKeepsADraftThatSaysTheSame() {
        for (var sheet : Sheets.shipped()) {
            var fields = fields(text(get(Role.MANAGER, "/rule-sheets/" + sheet.id() + "/edit")));
            var kept = post(Role.MANAGER, "/rule-sheets/" + sheet.id() + "/edit", fields);
            assertThat(kept).as(sheet.id() + " " + fields).hasStatus3xxRedirection();
            var id = Objects.requireNonNull(kept.getResponse().getRedirectedUrl())
                    .replaceAll("/rule-sheets/(.*)/edit", "$1");
            var draft = TestOrganisations.as(fleet, Role.MANAGER, () -> own.versions(id))
                    .getFirst();
            assertThat(draft.sheet().rules()).as(sheet.id()).isEqualTo(sheet.rules());
            assertThat(draft.sheet().zones()).as(sheet.id()).isEqualTo(sheet.zones());
        }
    }

    @Test
    void limitsAreAddedRemovedAndChangedWithoutAnyScript() {
        var path = "/rule-sheets/bs-au-242b-2022/edit";
        var fields = fields(text(get(Role.MANAGER, path)));
        var rows = count(fields, "rule");
        fields.addAll(List.of("do", "add"));
        var more = text(post(Role.MANAGER, path, fields));
        assertThat(more).contains("Limit " + (rows + 1));
        var added = fields(more);
        assertThat(count(added, "rule")).isEqualTo(rows + 1);
        added.addAll(List.of("do", "remove-" + rows));
        var fewer = fields(text(post(Role.MANAGER, path, added)));
        assertThat(count(fewer, "rule")).isEqualTo(rows);

        set(fewer, "limit", 0, "12,5");
        set(fewer, "zoneMm", 1, "300");
        var kept = post(Role.MANAGER, path, fewer);
        assertThat(kept).hasStatus3xxRedirection();
        var edit = Objects.requireNonNull(kept.getResponse().getRedirectedUrl());
        assertThat(text(get(Role.MANAGER, edit))).contains("value=\"12.5\"", "value=\"300\"");
    }

    @Test
    void mistakesStandBesideTheirFieldsAndWhatWasTypedStays() {
        var path = "/rule-sheets/bs-au-242b-2022/edit";
        var fields = fields(text(get(Role.MANAGER, path)));
        set(fields, "limit", 1, "forty");
        set(fields, "document", 0, "");
        set(fields, "name", 0, " ");
        var answer = post(Role.MANAGER, path, fields);
        assertThat(answer).hasStatus(422);
        assertThat(text(answer))
                .contains("id=\"limit-1-error\"", "value=\"forty\"", "id=\"document-0-error\"", "id=\"name-error\"")
                .contains("href=\"#limit-1\"");
    }

    @Test
    void aBlankSheetGetsItsFirstLimitInTheForm() {
        var path = "/rule-sheets/blank-repairable/edit";
        var fields = fields(text(get(Role.MANAGER, path)));
        set(fields, "name", 0, "Yard limits");
        set(fields, "rule", 0, "Size anywhere");
        set(fields, "limit", 0, "25");
        set(fields, "document", 0, "Yard manual");
        var kept = post(Role.MANAGER, path, fields);
        assertThat(kept).hasStatus3xxRedirection();
        var sheet =
                Objects.requireNonNull(kept.getResponse().getRedirectedUrl()).replace("/edit", "");
        assertThat(text(get(Role.MANAGER, sheet))).contains("Yard limits", "Size anywhere", "at most 25 mm", "Publish");
    }

    @Test
    void theDrawingFollowsTheFormBeforeAnythingIsKept() {
        var path = "/rule-sheets/bs-au-242b-2022/edit";
        var fields = fields(text(get(Role.MANAGER, path)));
        var before = text(post(Role.MANAGER, path.replace("edit", "drawing"), fields));
        set(fields, "zoneMm", 1, "150");
        var after = text(post(Role.MANAGER, path.replace("edit", "drawing"), fields));
        assertThat(before).contains("<svg").doesNotContain("<main");
        assertThat(after).contains("<svg").isNotEqualTo(before);
    }

    @Test
    void aDraftIsPublishedFromADayAndCostsAreKept() {
        var id = TestOrganisations.as(fleet, Role.MANAGER, () -> own.copy("common-practice-repair", "Ours"))
                .id();
        for (var wrong : List.of("9999-01-01", "2001-01-01", "soon", "")) {
            var refused =
                    post(Role.MANAGER, "/rule-sheets/" + id + "/publish", List.of("version", "0", "validFrom", wrong));
            assertThat(refused).as(wrong).hasStatus(422);
            assertThat(text(refused)).contains("id=\"validFrom-error\"", "value=\"" + wrong + "\"");
        }
        var published = post(
                Role.MANAGER,
                "/rule-sheets/" + id + "/publish",
                List.of(
                        "version",
                        "0",
                        "validFrom",
                        LocalDate.now().plusDays(40).toString()));
        assertThat(published).hasStatus3xxRedirection();
        assertThat(text(get(Role.MANAGER, "/rule-sheets/" + id))).contains("published", "Start the next version");
        var costs = post(
                Role.MANAGER,
                "/rule-sheets/cost-rates",
                List.of("version", "0", "repair", "49,50", "replacement", "380", "currency", "gbp"));
        assertThat(costs).hasStatus3xxRedirection();
        assertThat(text(get(Role.MANAGER, "/rule-sheets"))).contains("value=\"49.50\"", "value=\"GBP\"");
    }

    @Test
    void costsThatAreNoneComeBackWithWhatWasTypedAndTheMessageBesideThem() {
        var refused = post(
                Role.MANAGER,
                "/rule-sheets/cost-rates",
                List.of("version", "99999999999", "repair", "cheap", "replacement", "380", "currency", "gbp"));
        assertThat(refused).hasStatus(422);
        assertThat(text(refused))
                .contains("id=\"repair-error\"", "Give an amount", "value=\"cheap\"", "value=\"380\"", "value=\"gbp\"");
    }

    @Test
    void aDraftIsDeletedFromItsForm() {
        var id = TestOrganisations.as(fleet, Role.MANAGER, () -> own.copy("common-practice-repair", "Ours"))
                .id();
        assertThat(text(get(Role.MANAGER, "/rule-sheets/" + id + "/edit"))).contains("Delete the draft");
        assertThat(post(Role.DISPATCHER, "/rule-sheets/" + id + "/delete", List.of("version", "0")))
                .hasStatus(403);
        assertThat(post(Role.MANAGER, "/rule-sheets/" + id + "/delete", List.of("version", "0")))
                .hasRedirectedUrl("/rule-sheets");
        assertThat(get(Role.MANAGER, "/rule-sheets/" + id)).hasStatus(404);
    }

    @Test
    void aDraftIsNoPageForADriver() {
        var id = TestOrganisations.as(fleet, Role.MANAGER, () -> own.copy("common-practice-repair", "Ours"))
                .id();
        assertThat(get(Role.DRIVER, "/rule-sheets/" + id)).hasStatus(404);
        assertThat(get(Role.TECHNICIAN, "/rule-sheets/" + id)).hasStatus(200);
    }

    @Test
    void theChoiceNamesWhatIsChosenAndKeepsOtherCountriesApart() {
        var page = text(get(Role.MANAGER, "/rule-sheets"));
        assertThat(page).contains("the country's own".replace("'", "&#39;"), "Other countries");
        var chosen = List.of(
                "version",
                "0",
                "sheets-M1",
                "us-maryland",
                "sheets-M1",
                "common-practice-repair",
                "leaveAlonePitMm",
                "0");
        assertThat(post(Role.MANAGER, "/rule-sheets/chosen", chosen)).hasStatus3xxRedirection();
        var again = text(get(Role.MANAGER, "/rule-sheets"));
        var cars = again.substring(again.indexOf("(M1)"), again.indexOf("(M2)"));
        assertThat(cars.substring(0, cars.indexOf("</summary>")))
                .contains(name("us-maryland"), name("common-practice-repair"));
        assertThat(cars.indexOf("value=\"us-maryland\"")).isLessThan(cars.indexOf("Other countries"));
        assertThat(cars.indexOf("value=\"us-west-virginia\"")).isGreaterThan(cars.indexOf("Other countries"));
    }

    @Test
    void aRefusedChoiceComesBackWithAllThatWasChosen() {
        var fields = List.of(
                "version",
                "0",
                "sheets-M1",
                "common-practice-repair",
                "sheets-N3",
                "us-maryland",
                "leaveAlonePitMm",
                "3.5",
                "riskForSafetyPercent",
                "7",
                "riskForRepairPercent",
                "11");
        var refused = post(Role.MANAGER, "/rule-sheets/chosen", fields);
        assertThat(refused).hasStatus(422);
        assertThat(text(refused))
                .contains("Choose at least one sheet for M1", "<details class=\"more\" open=\"open\">")
                .contains("value=\"3.5\"", "value=\"7\"", "value=\"11\"")
                .containsPattern("name=\"sheets-M1\" value=\"common-practice-repair\" checked")
                .containsPattern("name=\"sheets-N3\" value=\"us-maryland\" checked");

        var good = new ArrayList<>(fields.subList(6, fields.size()));
        good.addAll(List.of("version", "0"));
        assertThat(post(Role.MANAGER, "/rule-sheets/chosen", good)).hasStatus3xxRedirection();
        good.set(good.size() - 1, "0");
        good.addAll(List.of("sheets-M1", "us-maryland", "sheets-M1", "common-practice-repair"));
        var stale = post(Role.MANAGER, "/rule-sheets/chosen", good);
        assertThat(stale).hasStatus(409);
        assertThat(text(stale))
                .contains("Somebody else has chosen meanwhile", "value=\"11\"", "name=\"version\" value=\"1\"")
                .containsPattern("name=\"sheets-M1\" value=\"us-maryland\" checked");
    }

    private static String name(String id) {
        return Sheets.shipped().stream()
                .filter(sheet -> sheet.id().equals(id))
                .findFirst()
                .orElseThrow()
                .name();
    }

    private static int count(List<String> fields, String name) {
        var count = 0;
        for (var i = 0; i < fields.size(); i += 2) {
            count += fields.get(i).equals(name) ? 1 : 0;
        }
        return count;
    }

    private static void set(List<String> fields, String name, int at, String value) {
        var seen = 0;
        for (var i = 0; i < fields.size(); i += 2) {
            if (fields.get(i).equals(name) && seen++ == at) {
                fields.set(i + 1, value);
                return;
            }
        }
        throw new AssertionError("no field " + name + " " + at + " in " + fields);
    }

    /** Names and values of the form, as a browser would send them. */
    private static List<String> fields(String page) {
        var form = page.substring(page.indexOf("/edit\""));
        form = form.substring(0, form.indexOf("</form>"));
        var fields = new ArrayList<String>();
        var found = Pattern.compile("<input[^>]*>|<select.*?</select>", Pattern.DOTALL)
                .matcher(form);
        while (found.find()) {
            var name = attribute(found.group(), "name");
            var chosen = Pattern.compile("<option[^>]*selected[^>]*>").matcher(found.group());
            var value = found.group().startsWith("<select")
                    ? chosen.find() ? attribute(chosen.group(), "value") : attribute(found.group(), "value")
                    : attribute(found.group(), "value");
            if (!name.isEmpty() && !name.equals("_csrf")) {
                fields.addAll(List.of(name, value));
            }
        }
        return fields;
    }

    private static String attribute(String element, String name) {
        var found = Pattern.compile("\\b" + name + "=\"([^\"]*)\"").matcher(element);
        return found.find()
                ? found.group(1)
                        .replace("&#39;", "'")
                        .replace("&quot;", "\"")
                        .replace("&lt;", "<")
                        .replace("&gt;", ">")
                        .replace("&amp;", "&")
                : "";
    }

    private MvcTestResult get(Role role, String path) {
        return mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(fleet.person(role))))
                .exchange();
    }

    private MvcTestResult post(Role role, String path, List<String> fields) {
        var request = mvc.post()
                .uri(path)
                .with(authentication(new ActingAuthentication(fleet.person(role))))
                .with(csrf());
        for (var i = 0; i < fields.size(); i += 2) {
            request.param(fields.get(i), fields.get(i + 1));
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
