package org.quarterlight.eligibility;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.eligibility.Cases.damage;
import static org.quarterlight.eligibility.Cases.glazing;
import static org.quarterlight.eligibility.Cases.judge;
import static org.quarterlight.eligibility.Cases.sheet;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.VehicleCategory;
import tools.jackson.databind.json.JsonMapper;

/** Sources that disagree: two named sheets, each marked with what the other says, and one that an organisation starts with. */
class ConflictingSheetsTests {
    /** What is known to be read in more than one way. */
    static Stream<List<String>> families() {
        return Stream.of(
                // AS/NZS 2366.1: 100 or 350 mm outside the critical vision area, centre line at the headrest or the
                // wheel
                List.of(
                        "as-nzs-2366-1-crack-100-headrest",
                        "as-nzs-2366-1-crack-100-wheel",
                        "as-nzs-2366-1-crack-350-headrest",
                        "as-nzs-2366-1-crack-350-wheel"),
                // VIRM 5-1: the same two centre lines
                List.of("nz-virm-5-1-headrest", "nz-virm-5-1-wheel"),
                // State inspection rules, NSW and Queensland family: "any two" reject, or are allowed
                List.of("au-light-two-reject", "au-light-two-allowed"),
                // ROLAGS: 14 in at first, 6 in by the decision of 2009, 14 in again in the recalled text of 2014
                List.of("us-rolags-2009-decision", "us-rolags-2007"),
                List.of("us-rolags-2009-decision", "us-rolags-2014"));
    }

    @ParameterizedTest
    @MethodSource("families")
    void eachOfAPairMarksTheOther(List<String> family) {
        for (var one : family) {
            for (var other : family) {
                if (!one.equals(other)) {
                    assertThat(sheet(one).otherReadings()).as(one).contains(other);
                    assertThat(requireNonNull(sheet(one).disagreement()).on())
                            .isEqualTo(
                                    requireNonNull(sheet(other).disagreement()).on());
                    assertThat(sheet(one).question()).isEqualTo(sheet(other).question());
                }
            }
        }
    }

    @Test
    void noSheetIsMarkedByOneThatItDoesNotMark() {
        for (var one : Sheets.shipped()) {
            assertThat(one.otherReadings()).doesNotContain(one.id());
            assertThat(one.disagreement() != null)
                    .as(one.id())
                    .isEqualTo(!one.otherReadings().isEmpty());
            for (var other : one.otherReadings()) {
                assertThat(sheet(other).otherReadings()).as(other).contains(one.id());
            }
        }
    }

    @ParameterizedTest
    @MethodSource("families")
    void everyLimitThatTheOtherReadsOtherwiseIsMarked(List<String> family) {
        for (var one : family) {
            for (var other : family) {
                for (var rule : sheet(one).rules()) {
                    var same = sheet(other).rules().stream()
                            .filter(each -> each.name().equals(rule.name()))
                            .findFirst();
                    if (!one.equals(other) && same.isPresent() && !isReadAlike(one, rule, other, same.get())) {
                        assertThat(requireNonNull(rule.source().conflictsWith()))
                                .as(one + " " + rule.name())
                                .extracting(OtherReading::sheet)
                                .contains(other);
                    }
                }
            }
        }
    }

    private static boolean isReadAlike(String one, Rule rule, String other, Rule same) {
        return Objects.equals(rule.limitMm(), same.limitMm())
                && Objects.equals(rule.limitCount(), same.limitCount())
                && rule.allowed().equals(same.allowed())
                && (rule.where() == null || drawn(sheet(one), rule.where()).equals(drawn(sheet(other), rule.where())));
    }

    /** How a zone is drawn, with all that it is drawn from. */
    private static List<Object> drawn(Sheet sheet, String zone) {
        var ways = new ArrayList<Object>();
        for (var way : sheet.zones().getOrDefault(zone, List.of())) {
            ways.add(way);
            way.zone().builtFrom().forEach(part -> ways.add(drawn(sheet, part)));
        }
        return ways;
    }

    @Test
    void anOrganisationStartsWithOneReadingAndIsToldWhy() {
        for (var country : List.of("AU", "NZ", "US")) {
            var starting = Sheets.startingFor(country, null);
            var families = new HashSet<String>();
            for (var sheet : starting) {
                if (sheet.disagreement() != null) {
                    assertThat(families.add(
                                    sheet.question() + sheet.disagreement().on()))
                            .as("one reading of " + sheet.name())
                            .isTrue();
                    assertThat(sheet.disagreement().startsBecause()).isNotBlank();
                }
            }
            assertThat(families).isNotEmpty();
        }
        assertThat(Sheets.startingFor("AU", null))
                .extracting(Sheet::id)
                .containsExactly(
                        "au-light-two-reject", "common-practice-roadworthiness", "as-nzs-2366-1-crack-100-headrest");
        assertThat(Sheets.startingFor("NZ", null))
                .extracting(Sheet::id)
                .containsExactly(
                        "nz-virm-5-1-headrest", "common-practice-roadworthiness", "as-nzs-2366-1-crack-100-headrest");
    }

    @Test
    void noLimitThatIsOnlyRecalledIsStartedWithWhereAnotherReadingWasSeen() {
        var seen = Sheets.shipped().stream()
                .flatMap(sheet -> sheet.rules().stream()
                        .filter(rule -> rule.source().conflictsWith() != null
                                && rule.source().status() == Status.MEMORY)
                        .map(rule -> sheet))
                .toList();
        assertThat(seen)
                .isNotEmpty()
                .allSatisfy(sheet -> assertThat(sheet.onlyByChoice()).isTrue());
    }

    @Test
    void aFindingSaysInJsonWhatTheOtherReadingIs() {
        var crack = damage(DamageKind.CRACK, 0, 300, 80).facts();
        var verdict = judge(glazing(VehicleCategory.M1, null), crack, sheet("as-nzs-2366-1-crack-100-headrest"));
        var json = JsonMapper.builder().build().valueToTree(verdict);
        assertThat(json.path("findings").valueStream())
                .filteredOn(finding -> finding.path("rule").asString().startsWith("crack-"))
                .anySatisfy(finding -> assertThat(
                                finding.at("/source/conflictsWith").toString())
                        .contains("{\"sheet\":\"as-nzs-2366-1-crack-350-headrest\",\"says\":\"at most 350 mm\"}"));
    }

    @Test
    void whatWasShippedBeforeIsStillThereToTheLetter() {
        for (var sheet : Sheets.shipped()) {
            for (var version = 1; version < sheet.version(); version++) {
                var before = Sheets.version(sheet.id(), version).orElseThrow();
                assertThat(before.version()).isEqualTo(version);
                assertThat(before.id()).isEqualTo(sheet.id());
                assertThat(Sheets.read(before.id(), Sheets.textOf(sheet.id(), version)))
                        .isEqualTo(before)
                        .isNotEqualTo(sheet);
            }
            assertThat(Sheets.versions(sheet.id())).first().isEqualTo(sheet);
        }
        // as it was judged before sources were marked
        assertThat(Sheets.version("us-rolags-2014", 1).orElseThrow().rules())
                .allSatisfy(rule -> assertThat(rule.source().conflictsWith()).isNull());
    }
}
