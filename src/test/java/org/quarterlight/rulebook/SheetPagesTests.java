package org.quarterlight.rulebook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.eligibility.VehicleTest;
import org.quarterlight.eligibility.Zone;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The pages of rules: read by everybody of the fleet, written by a manager in a form without any script. */
@QuarterlightTest
class SheetPagesTests {

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private OwnSheets own;

    @Autowired
    private Rulebook rulebook;

    @Autowired
    private JsonMapper json;

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
            assertThat(draft.sheet().vehicles()).as(sheet.id()).isEqualTo(sheet.vehicles());
            assertThat(draft.sheet().note()).as(sheet.id()).isEqualTo(sheet.note());
            assertThat(draft.sheet().country()).isEqualTo(sheet.country());
            assertThat(draft.sheet().subdivision()).isEqualTo(sheet.subdivision());
            assertThat(draft.sheet().alsoIn()).isEqualTo(sheet.alsoIn());
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
        set(fewer, "wayWidth", 0, "300");
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
    void aLimitThatSomebodyChangesIsNoLongerThatOfItsSource() {
        var path = "/rule-sheets/bs-au-242b-2022/edit";
        var fields = fields(text(get(Role.MANAGER, path)));
        set(fields, "name", 0, "Stricter");
        set(fields, "limit", 1, "17");
        var kept = post(Role.MANAGER, path, fields);
        assertThat(kept).hasStatus3xxRedirection();
        var sheet =
                Objects.requireNonNull(kept.getResponse().getRedirectedUrl()).replace("/edit", "");
        var shown = text(get(Role.MANAGER, sheet));
        assertThat(shown).containsOnlyOnce("Own limit, changed from BS AU 242b:2022");
    }

    @Test
    void theDrawingFollowsTheFormBeforeAnythingIsKept() {
        var path = "/rule-sheets/bs-au-242b-2022/edit";
        var fields = fields(text(get(Role.MANAGER, path)));
        var before = text(post(Role.MANAGER, path.replace("edit", "drawing"), fields));
        set(fields, "wayWidth", 1, "150"); // of cars
        var after = text(post(Role.MANAGER, path.replace("edit", "drawing"), fields));
        assertThat(before).contains("<svg").doesNotContain("<main");
        assertThat(after).contains("<svg").isNotEqualTo(before);
    }

    @Test
    void zonesAreAddedRenamedAndUsedWithoutAnyScript() {
        var path = "/rule-sheets/common-practice-repair/edit";
        var fields = fields(text(get(Role.MANAGER, path)));
        var before = count(fields, "zoneName");
        fields.addAll(List.of("do", "zone-add"));
        var added = fields(text(post(Role.MANAGER, path, fields)));
        assertThat(count(added, "zoneName")).isEqualTo(before + 1);
        var way = count(added, "wayZone") - 1;
        set(added, "zoneName", before, "Before the driver's eye");
        set(added, "wayConstruction", way, "rectangle");
        set(added, "wayWithin", way, "whole-glass");
        set(added, "wayWidth", way, "300");
        set(added, "wayHeight", way, "200,5");
        set(added, "wayVehicles", way, "m3; n2, n3 over 7500 kg");
        set(added, "where", 0, "zone-1");
        set(added, "vehicles", 0, "M3; N2 over 7500 kg up to 12000 kg");
        added.addAll(List.of("kinds-0", "pit", "kinds-0", "bullseye"));
        var drawing = text(post(Role.MANAGER, path.replace("edit", "drawing"), added));
        assertThat(drawing).contains("<svg");
        var kept = post(Role.MANAGER, path, added);
        assertThat(kept).as(() -> text(kept)).hasStatus3xxRedirection();
        var edit = Objects.requireNonNull(kept.getResponse().getRedirectedUrl());
        var id = edit.replaceAll("/rule-sheets/(.*)/edit", "$1");
        var sheet = TestOrganisations.as(fleet, Role.MANAGER, () -> own.versions(id))
                .getFirst()
                .sheet();
        assertThat(sheet.zones().get("before-the-drivers-eye")).singleElement().satisfies(drawn -> {
            assertThat(drawn.zone()).isEqualTo(new Zone.Rectangle(300, 200.5, "whole-glass"));
            assertThat(drawn.vehicles())
                    .containsExactly(
                            new VehicleTest(Set.of(VehicleCategory.M3), null, null),
                            new VehicleTest(Set.of(VehicleCategory.N2, VehicleCategory.N3), 7500.0, null));
        });
        var rule = sheet.rules().getFirst();
        assertThat(rule.where()).isEqualTo("before-the-drivers-eye");
        assertThat(rule.kinds()).contains(DamageKind.PIT, DamageKind.BULLSEYE);
        assertThat(rule.vehicles())
                .containsExactly(
                        new VehicleTest(Set.of(VehicleCategory.M3), null, null),
                        new VehicleTest(Set.of(VehicleCategory.N2), 7500.0, 12000.0));
        assertThat(text(get(Role.MANAGER, edit)))
                .contains("Zone " + (before + 1) + ": Before the driver&#39;s eye", "M3; N2, N3 over 7500 kg");
        assertThat(mvc.get()
                        .uri("/api/v1/rule-sheets/" + id)
                        .header("Authorization", fleet.bearer(Role.MANAGER))
                        .exchange())
                .bodyJson()
                .extractingPath("$.zones.before-the-drivers-eye[0].rectangle.heightMm")
                .isEqualTo(200.5);
    }

    @Test
    void everyConstructionIsWrittenByItsNumbers() {
        var path = "/rule-sheets/blank-repairable/edit";
        var words = new LinkedHashMap<String, Zone>();
        words.put("band", new Zone.Band(120, Zone.Centre.EYE, "swept-area"));
        words.put("square", new Zone.Square(120, "swept-area"));
        words.put("rectangle", new Zone.Rectangle(120, 80, "swept-area"));
        words.put("strip", new Zone.Strip(Zone.Side.PASSENGER, 120, "swept-area"));
        words.put("half", new Zone.Half(Zone.Side.PASSENGER, "swept-area"));
        words.put("inset", new Zone.Inset(10, 20, 30, true, "swept-area"));
        words.put("without", new Zone.Without("swept-area", List.of("camera-area")));
        words.put("union", new Zone.Union(List.of("camera-area", "swept-area")));
        words.forEach((construction, zone) -> {
            var fields = fields(text(get(Role.MANAGER, path)));
            set(fields, "name", 0, "Yard limits");
            set(fields, "rule", 0, "Size");
            set(fields, "limit", 0, "25");
            set(fields, "document", 0, "Yard manual");
            set(fields, "wayConstruction", 0, construction);
            set(fields, "wayWidth", 0, "120");
            set(fields, "wayHeight", 0, "80");
            set(fields, "wayCentre", 0, "eye");
            set(fields, "waySide", 0, "passenger");
            set(fields, "wayTop", 0, "10");
            set(fields, "wayBottom", 0, "20");
            set(fields, "waySides", 0, "30");
            set(fields, "wayWheelTop", 0, "yes");
            fields.addAll(List.of("wayParts-0", "camera-area"));
            if (construction.equals("union")) {
                fields.addAll(List.of("wayParts-0", "swept-area"));
            }
            var kept = post(Role.MANAGER, path, fields);
            assertThat(kept).as(construction).hasStatus3xxRedirection();
            var id = Objects.requireNonNull(kept.getResponse().getRedirectedUrl())
                    .replaceAll("/rule-sheets/(.*)/edit", "$1");
            var sheet = TestOrganisations.as(fleet, Role.MANAGER, () -> own.versions(id))
                    .getFirst()
                    .sheet();
            assertThat(sheet.zones().values().iterator().next().getFirst().zone())
                    .isEqualTo(zone);
        });
    }

    @Test
    void mistakesOfZonesStandBesideTheirFields() {
        var path = "/rule-sheets/bs-au-242b-2022/edit";
        var fields = fields(text(get(Role.MANAGER, path)));
        set(fields, "wayWidth", 0, "wide");
        set(fields, "wayVehicles", 1, "lorries");
        set(fields, "vehicles", 0, "heavy ones");
        var answer = post(Role.MANAGER, path, fields);
        assertThat(answer).hasStatus(422);
        assertThat(text(answer))
                .contains("id=\"wayWidth-0-error\"", "value=\"wide\"", "id=\"wayVehicles-1-error\"")
                .contains("id=\"vehicles-0-error\"", "href=\"#wayWidth-0\"", "Zone 1: Give a number");
        var two = fields(text(get(Role.MANAGER, path)));
        set(two, "zoneName", 1, "Driver's zone");
        var same = post(Role.MANAGER, path, two);
        assertThat(same).hasStatus(422);
        assertThat(text(same)).contains("id=\"zoneName-1-error\"", "Another zone has this name");
        var gone = fields(text(get(Role.MANAGER, path)));
        gone.addAll(List.of("do", "zone-remove-0"));
        var without = fields(text(post(Role.MANAGER, path, gone)));
        assertThat(count(without, "zoneName")).isEqualTo(1);
        var refused = post(Role.MANAGER, path, without);
        assertThat(refused).hasStatus(422);
        assertThat(text(refused)).contains("(no longer there)", "unknown zone");
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

    @Test
    void everyRuleOfEveryShippedSheetStandsOnOnePageForWhoeverIsSignedIn() {
        var repairer = organisations.repairer();
        var pages = new ArrayList<String>();
        for (var role : Role.values()) {
            if (fleet.people().containsKey(role)) {
                pages.add(text(get(role, "/rule-sheets/limits")));
            }
            if (repairer.people().containsKey(role)) {
                pages.add(text(mvc.get()
                        .uri("/rule-sheets/limits")
                        .with(authentication(new ActingAuthentication(repairer.person(role))))
                        .exchange()));
            }
        }
        assertThat(pages).hasSizeGreaterThan(6);
        for (var html : pages) {
            var page = plain(html);
            for (var sheet : Sheets.shipped()) {
                var begins = page.indexOf("<section class=\"section long\" id=\"" + sheet.id() + "\"");
                assertThat(begins).as(sheet.id()).isPositive();
                var section = page.substring(begins, page.indexOf("</section>", begins));
                assertThat(section.split("<tr>", -1))
                        .as(sheet.id())
                        .hasSize(sheet.rules().size() + 2);
                for (var rule : sheet.rules()) {
                    assertThat(section)
                            .contains(rule.source().document())
                            .contains(Objects.requireNonNullElse(rule.source().edition(), ""))
                            .contains(Objects.requireNonNullElse(rule.source().section(), ""))
                            .contains(rule.limitCount() != null ? " " + rule.limitCount() : "")
                            .contains(
                                    rule.limitMm() != null && rule.limitMm() > 0
                                            ? BigDecimal.valueOf(rule.limitMm())
                                                            .stripTrailingZeros()
                                                            .toPlainString()
                                                    + " mm"
                                            : "");
                }
            }
        }
        var items = api(Role.DRIVER, "/api/v1/rule-sheets/limits").path("items");
        assertThat(items)
                .hasSize(Sheets.shipped().stream()
                        .mapToInt(each -> each.rules().size())
                        .sum());
        assertThat(items.get(0).path("source").path("status").asString()).isNotBlank();
        assertThat(text(get(Role.MANAGER, "/rule-sheets"))).contains("href=\"/rule-sheets/limits\"");
    }

    @Test
    void conflictsOfSourcesAreNamedWithTheReadingTakenAndTheOthersBothOffered() {
        fleet = organisations.fleet("NZ");
        var page = plain(text(get(Role.MANAGER, "/rule-sheets")));
        assertThat(page)
                .contains("Sources disagree on where the centre line of the critical vision area lies.")
                .contains("Sources disagree on how long a crack may be outside the critical vision area")
                .contains("You judge by", "Other readings:", "The headrest is the better attested of the two.")
                .doesNotContain("Sources disagree on how many small marks");
        var cars = page.substring(page.indexOf("(M1)"), page.indexOf("(M2)"));
        for (var either : List.of(
                "nz-virm-5-1-wheel",
                "nz-virm-5-1-headrest",
                "as-nzs-2366-1-crack-350-wheel",
                "as-nzs-2366-1-crack-100-headrest")) {
            assertThat(cars.indexOf("value=\"" + either + "\""))
                    .as(either)
                    .isPositive()
                    .isLessThan(cars.indexOf("Other countries"));
        }
        var conflicts = api(Role.MANAGER, "/api/v1/rule-sheets/disagreements").path("items");
        assertThat(conflicts).hasSize(2);
        assertThat(conflicts
                        .get(0)
                        .path("readings")
                        .valueStream()
                        .filter(reading -> reading.path("judges").asBoolean())
                        .map(reading -> reading.path("sheet").asString()))
                .containsExactly("nz-virm-5-1-headrest");
        // chosen otherwise
        var chosen = new ArrayList<>(List.of("version", "0"));
        for (var sheet : List.of("nz-virm-5-1-wheel", "as-nzs-2366-1-crack-350-wheel")) {
            chosen.addAll(List.of("sheets-M1", sheet));
        }
        assertThat(post(Role.MANAGER, "/rule-sheets/chosen", chosen)).hasStatus3xxRedirection();
        assertThat(plain(text(get(Role.MANAGER, "/rule-sheets")))).contains("Of several answers the worst counts.");
        fleet = organisations.fleet("GB");
        assertThat(text(get(Role.MANAGER, "/rule-sheets"))).doesNotContain("Where sources disagree");
    }

    @Test
    void aPastVersionHasAPage() {
        var now = text(get(Role.DRIVER, "/rule-sheets/us-rolags-2014"));
        assertThat(now).contains("Sources disagree on", "/rule-sheets/us-rolags-2014?version=1");
        var before = text(get(Role.DRIVER, "/rule-sheets/us-rolags-2014?version=1"));
        assertThat(before)
                .contains("This is version 1, as it judged then.", "Version 2 is the newest")
                .doesNotContain("Sources disagree on");
        assertThat(get(Role.DRIVER, "/rule-sheets/us-rolags-2014?version=3")).hasStatus(404);
        var id = TestOrganisations.as(fleet, Role.MANAGER, () -> own.copy("common-practice-repair", "Ours"))
                .id()
                .toString();
        TestOrganisations.as(fleet, Role.MANAGER, () -> own.publish(id, new PublishSheet(LocalDate.now()), null));
        TestOrganisations.as(fleet, Role.MANAGER, () -> own.startVersion(id));
        assertThat(text(get(Role.MANAGER, "/rule-sheets/" + id)))
                .contains("/rule-sheets/" + id + "?version=1", "/rule-sheets/" + id + "?version=2");
        assertThat(get(Role.DRIVER, "/rule-sheets/" + id + "?version=1")).hasStatus(200);
        assertThat(get(Role.DRIVER, "/rule-sheets/" + id + "?version=2")).hasStatus(404);
        assertThat(text(get(Role.MANAGER, "/rule-sheets/" + id + "?version=2"))).contains("Version 2, from");
    }

    @Test
    void whatAMajorGradeDoesAndHowLongEachOutcomeWaitsIsChosenOnThePage() {
        var page = text(get(Role.MANAGER, "/rule-sheets"));
        assertThat(page)
                .containsPattern("value=\"M3\"[^>]*name=\"majorStandsDownFor\"[^>]*checked")
                .contains("id=\"days-REPAIR\" name=\"days-REPAIR\" value=\"14\"");
        var chosen = new ArrayList<>(List.of(
                "version",
                "0",
                "_majorStandsDownFor",
                "on",
                "majorStandsDownFor",
                "N3",
                "days-REPAIR",
                "soon",
                "days-WATCH",
                "60"));
        var refused = post(Role.MANAGER, "/rule-sheets/chosen", chosen);
        assertThat(refused).hasStatus(422);
        assertThat(text(refused))
                .contains("id=\"days-REPAIR-error\"", "value=\"soon\"", "value=\"60\"")
                .containsPattern("value=\"N3\"[^>]*name=\"majorStandsDownFor\"[^>]*checked");
        chosen.set(chosen.indexOf("soon"), "7");
        assertThat(post(Role.MANAGER, "/rule-sheets/chosen", chosen)).hasStatus3xxRedirection();
        var choices = TestOrganisations.as(fleet, Role.MANAGER, () -> rulebook.choices());
        assertThat(choices.majorStandsDownFor()).containsExactly(VehicleCategory.N3);
        assertThat(choices.daysByOutcome())
                .containsEntry(Outcome.REPAIR, 7)
                .containsEntry(Outcome.WATCH, 60)
                .containsEntry(Outcome.REPLACE, 14);
        assertThat(post(Role.MANAGER, "/rule-sheets/chosen", List.of("version", "1", "_majorStandsDownFor", "on")))
                .hasStatus3xxRedirection();
        assertThat(TestOrganisations.as(fleet, Role.MANAGER, () -> rulebook.choices())
                        .majorStandsDownFor())
                .isEmpty();
    }

    @Test
    void anyTwoOfMarksThatCountAsOneAndFinishedRepairsAreWrittenInTheForm() {
        var path = "/rule-sheets/blank-roadworthy/edit";
        var fields = fields(text(get(Role.MANAGER, path)));
        set(fields, "name", 0, "Yard limits");
        set(fields, "sheetVehicles", 0, "M2, M3");
        set(fields, "country", 0, "us");
        set(fields, "subdivision", 0, "us-md");
        set(fields, "sheetNote", 0, "As agreed in the yard.");
        set(fields, "rule", 0, "Any two");
        set(fields, "quantity", 0, "count");
        set(fields, "limit", 0, "1");
        set(fields, "document", 0, "Yard manual");
        set(fields, "edition", 0, "second");
        set(fields, "checkedOn", 0, "2026-11-30");
        set(fields, "note", 0, "Two marks of these are too many.");
        set(
                fields,
                "counted",
                0,
                "Bullseye, star break with overall diameter at most 16,5 mm; crack with crack length"
                        + " more than 30 and ends at edge at most 0; every damage with layers one of through");
        set(fields, "finished", 0, "too");
        fields.addAll(List.of("do", "add"));
        var two = fields(text(post(Role.MANAGER, path, fields)));
        set(two, "rule", 1, "Together");
        set(two, "limit", 1, "20");
        set(two, "document", 1, "Yard manual");
        set(two, "together", 1, "15");
        set(two, "finished", 1, "alone");
        two.addAll(List.of("do", "try"));
        var kept = post(Role.MANAGER, path, two);
        assertThat(kept).as(() -> text(kept)).hasStatus3xxRedirection();
        var preview = Objects.requireNonNull(kept.getResponse().getRedirectedUrl());
        assertThat(preview).endsWith("/preview");
        assertThat(get(Role.MANAGER, preview)).hasStatus(200);
        var id = preview.replaceAll("/rule-sheets/(.*)/preview", "$1");
        var sheet = TestOrganisations.as(fleet, Role.MANAGER, () -> own.versions(id))
                .getFirst()
                .sheet();
        assertThat(sheet.vehicles())
                .containsExactly(new VehicleTest(Set.of(VehicleCategory.M2, VehicleCategory.M3), null, null));
        assertThat(sheet.country()).isEqualTo("US");
        assertThat(sheet.subdivision()).isEqualTo("US-MD");
        assertThat(sheet.note()).isEqualTo("As agreed in the yard.");
        var count = sheet.rules().getFirst();
        assertThat(count.countsFinishedRepairs()).isTrue();
        assertThat(count.onlyFinishedRepairs()).isFalse();
        assertThat(count.note()).isEqualTo("Two marks of these are too many.");
        assertThat(count.source().edition()).isEqualTo("second");
        assertThat(count.source().checkedOn()).isEqualTo(LocalDate.of(2026, 11, 30));
        assertThat(count.counted()).hasSize(3);
        assertThat(count.counted().get(0).kinds()).containsOnly(DamageKind.BULLSEYE, DamageKind.STAR_BREAK);
        assertThat(count.counted().get(0).tests().getFirst().limitMm()).isEqualTo(16.5);
        assertThat(count.counted().get(1).tests()).hasSize(2);
        assertThat(count.counted().get(1).tests().getLast().limitCount()).isZero();
        assertThat(count.counted().get(2).kinds()).isEmpty();
        assertThat(sheet.rules().getLast().togetherWithinMm()).isEqualTo(15);
        assertThat(sheet.rules().getLast().onlyFinishedRepairs()).isTrue();
        assertThat(text(get(Role.MANAGER, "/rule-sheets/" + id + "/edit")))
                .contains("bullseye, star break with overall diameter at most 16.5; crack with");

        var wrong = fields(text(get(Role.MANAGER, "/rule-sheets/" + id + "/edit")));
        set(wrong, "counted", 0, "some of them");
        set(wrong, "country", 0, "America");
        set(wrong, "sheetVehicles", 0, "lorries");
        var refused = post(Role.MANAGER, "/rule-sheets/" + id + "/edit", wrong);
        assertThat(refused).hasStatus(422);
        assertThat(text(refused))
                .contains("id=\"counted-0-error\"", "value=\"some of them\"", "id=\"country-error\"")
                .contains("id=\"sheetVehicles-error\"", "Kinds, and what they must show");
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
        var found = Pattern.compile("<input[^>]*>|<select.*?</select>|<textarea.*?</textarea>", Pattern.DOTALL)
                .matcher(form);
        while (found.find()) {
            var name = attribute(found.group(), "name");
            var chosen = Pattern.compile("<option[^>]*selected[^>]*>").matcher(found.group());
            var value = found.group().startsWith("<select")
                    ? chosen.find() ? attribute(chosen.group(), "value") : attribute(found.group(), "value")
                    : found.group().startsWith("<textarea")
                            ? plain(found.group().replaceAll("(?s)^<textarea[^>]*>|</textarea>$", ""))
                            : attribute(found.group(), "value");
            var unticked = found.group().contains("type=\"checkbox\"")
                    && !found.group().contains("checked");
            if (!name.isEmpty() && !name.equals("_csrf") && !unticked) {
                fields.addAll(List.of(name, value));
            }
        }
        return fields;
    }

    private static String attribute(String element, String name) {
        var found = Pattern.compile("\\b" + name + "=\"([^\"]*)\"").matcher(element);
        return found.find() ? plain(found.group(1)) : "";
    }

    private static String plain(String html) {
        return html.replace("&#39;", "'")
                .replace("&quot;", "\"")
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace("&amp;", "&");
    }

    private MvcTestResult get(Role role, String path) {
        return mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(fleet.person(role))))
                .exchange();
    }

    private JsonNode api(Role role, String path) {
        return json.readTree(text(
                mvc.get().uri(path).header("Authorization", fleet.bearer(role)).exchange()));
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
