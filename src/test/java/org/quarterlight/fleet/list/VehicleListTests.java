package org.quarterlight.fleet.list;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.InstanceOfAssertFactories.type;

import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

class VehicleListTests {
    private static final Reading READING = new Reading(50 << 20, DateOrder.DAY_FIRST, LocalDate.of(2026, 3, 2));

    @Test
    void findsTheHeadingsBelowTitlesAndPassesOverEmptyColumns() throws IOException {
        var shape = open("titles-and-empty-columns").shape();

        assertThat(shape.encoding()).isEqualTo(StandardCharsets.UTF_8);
        assertThat(shape.separator()).isEqualTo(',');
        assertThat(shape.headingRow()).isEqualTo(4);
        assertThat(shape.columns())
                .extracting(Shape.Column::field)
                .containsExactly(
                        Field.REGISTRATION,
                        Field.VIN,
                        Field.CATEGORY,
                        Field.MAXIMUM_MASS,
                        Field.STEERING_SIDE,
                        Field.DEPOT,
                        Field.FIRST_REGISTERED,
                        Field.NOTES);
        assertThat(shape.passedOver())
                .containsExactly(new Shape.PassedOver(9, "Tyre size", "is not among the columns that are read"));
        assertThat(shape.rows()).isEqualTo(5);
        assertThat(shape.dates())
                .containsExactly(new Shape.Dates("First registered", DateOrder.DAY_FIRST, Shape.DecidedBy.HABIT));
    }

    @Test
    void numbersRowsAsASpreadsheetDoesThoughCellsRunOverLines() throws IOException {
        var rows = rows("titles-and-empty-columns");

        assertThat(rows).extracting(Row::number).containsExactly(5, 6, 8, 9, 10);
        var first = good(rows.get(0));
        assertThat(first.registration()).isEqualTo(new Registration("QV23KTB", "qv23 ktb"));
        assertThat(first.vin()).isEqualTo(new Vin("1M8GDM9AXKP042788"));
        assertThat(first.category()).isEqualTo(VehicleCategory.M3);
        assertThat(first.maximumMassKg()).isEqualTo(18_000);
        assertThat(first.steeringSide()).isEqualTo(SteeringSide.RIGHT);
        assertThat(first.firstRegistered()).isEqualTo(LocalDate.of(2023, 4, 3));
        assertThat(first.notes()).isEqualTo("Seat 4 squeaks.\nSecond line, with comma");
        var third = good(rows.get(2));
        assertThat(third.category()).isEqualTo(VehicleCategory.M2);
        assertThat(third.maximumMassKg()).isEqualTo(4_900);
        assertThat(third.firstRegistered()).isEqualTo(LocalDate.of(2019, 11, 30));
        assertThat(third.notes()).isNull();
    }

    @Test
    void namesTheRowThatHasTheRegistrationAlready() throws IOException {
        assertThat(problems(rows("titles-and-empty-columns").get(3)))
                .containsExactly(new Problem("Reg. No.", "QV 23KTB is in row 5 already"));
    }

    @Test
    void takesNoSumForAVehicle() throws IOException {
        assertThat(problems(rows("titles-and-empty-columns").get(4)))
                .containsExactly(new Problem("Reg. No.", "says “Total”, which looks like a sum and not a vehicle"));
    }

    @Test
    void warnsOfACheckDigitAndKeepsTheVehicle() throws IOException {
        assertThat(rows("titles-and-empty-columns").get(1))
                .asInstanceOf(type(Row.Good.class))
                .satisfies(row -> assertThat(row.warnings())
                        .containsExactly(new Problem(
                                "Chassis No.",
                                "has 0 as its ninth character, the check digit would be X; that matters only where"
                                        + " check digits are binding")));
    }

    @Test
    void readsAGermanListInWindows1252() throws IOException {
        var list = open("german-semicolon-windows-1252");
        assertThat(list.shape().encoding()).isEqualTo(Charset.forName("windows-1252"));
        assertThat(list.shape().separator()).isEqualTo(';');
        assertThat(list.shape().headingRow()).isEqualTo(4);

        var rows = rows("german-semicolon-windows-1252").stream()
                .map(VehicleListTests::good)
                .toList();
        assertThat(rows)
                .extracting(VehicleLine::category)
                .containsExactly(VehicleCategory.N1, VehicleCategory.N2, VehicleCategory.N3);
        assertThat(rows).extracting(VehicleLine::maximumMassKg).containsExactly(3_500, 7_490, 12_010);
        assertThat(rows).extracting(VehicleLine::depot).containsExactly("Großkirchen", "Großkirchen", "Überlingsau");
        assertThat(rows)
                .extracting(VehicleLine::firstRegistered)
                .containsExactly(LocalDate.of(2022, 3, 7), LocalDate.of(2020, 12, 1), LocalDate.of(2019, 12, 31));
        assertThat(rows.get(0).notes()).isEqualTo("Fährt nur „Süd“ – täglich");
        assertThat(rows.get(1).notes()).isEqualTo("Spiegel\r\ngetauscht; 2024");
        assertThat(rows.get(1).registration().key()).isEqualTo("QW-ÄÖ7");
    }

    @ParameterizedTest
    @CsvSource({"spanish-tab-utf16le, UTF-16LE", "spanish-tab-utf16be-without-mark, UTF-16BE"})
    void readsASpanishListInUtf16(String name, String encoding) throws IOException {
        var list = open(name);
        assertThat(list.shape().encoding()).isEqualTo(Charset.forName(encoding));
        assertThat(list.shape().separator()).isEqualTo('\t');

        var rows = rows(name);
        var first = good(rows.get(0));
        assertThat(first.registration()).isEqualTo(new Registration("0000QVW", "0000 qvw"));
        assertThat(first.category()).isEqualTo(VehicleCategory.N1);
        assertThat(first.steeringSide()).isEqualTo(SteeringSide.LEFT);
        assertThat(first.notes()).isEqualTo("Niño a bordo");
        assertThat(good(rows.get(1)).category()).isEqualTo(VehicleCategory.N3);
        assertThat(good(rows.get(2)).depot()).isEqualTo("Álora del Páramo");
        assertThat(good(rows.get(2)).category()).isEqualTo(VehicleCategory.M3);
    }

    @Test
    void readsTheMonthFirstWhereOneValueForcesIt() throws IOException {
        var list = open("bom-month-first");
        assertThat(list.shape().dates())
                .containsExactly(
                        new Shape.Dates("Registration Date", DateOrder.MONTH_FIRST, Shape.DecidedBy.ANOTHER_COLUMN),
                        new Shape.Dates("Windshield Replaced", DateOrder.MONTH_FIRST, Shape.DecidedBy.ITS_VALUES));

        var rows = rows("bom-month-first");
        assertThat(good(rows.get(0)).firstRegistered()).isEqualTo(LocalDate.of(2021, 3, 4));
        assertThat(good(rows.get(1)).glassFitted()).isEqualTo(LocalDate.of(2024, 1, 2));
        assertThat(good(rows.get(0)).maximumMassKg()).isEqualTo(4_536);
    }

    @Test
    void doesNotGuessWhereAColumnHasBothOrders() throws IOException {
        assertThat(open("contradicting-dates").shape().dates())
                .extracting(Shape.Dates::decidedBy)
                .containsExactly(Shape.DecidedBy.CONTRADICTION);

        var rows = rows("contradicting-dates");
        assertThat(good(rows.get(0)).firstRegistered()).isEqualTo(LocalDate.of(2021, 3, 25));
        assertThat(good(rows.get(1)).firstRegistered()).isEqualTo(LocalDate.of(2021, 3, 25));
        assertThat(problems(rows.get(2)))
                .singleElement()
                .satisfies(problem -> assertThat(problem.reason()).contains("may be read in two ways"));
        assertThat(good(rows.get(3)).firstRegistered()).isEqualTo(LocalDate.of(2021, 5, 5));
    }

    @Test
    void findsThreeColumnsAmongThreeHundred() throws IOException {
        var list = open("three-hundred-columns");
        assertThat(list.shape().headings()).hasSize(300);
        assertThat(list.shape().columns())
                .containsExactly(
                        new Shape.Column(150, "Number plate", Field.REGISTRATION),
                        new Shape.Column(220, "Fahrgestellnummer", Field.VIN),
                        new Shape.Column(299, "Depot", Field.DEPOT));
        assertThat(rows("three-hundred-columns"))
                .hasSize(5)
                .allSatisfy(row -> assertThat(good(row).depot()).isEqualTo("Millbeck"));
    }

    @Test
    void readsTheGoodRowsOfAHalfBrokenListAndNamesEveryProblem() throws IOException {
        var rows = rows("half-broken");

        assertThat(rows.stream().filter(Row.Good.class::isInstance).map(Row::number))
                .containsExactly(2, 7, 9, 11, 13);
        assertThat(problems(rows.get(1))).containsExactly(new Problem("Registration", "is missing"));
        assertThat(problems(rows.get(2)))
                .containsExactly(new Problem("VIN", "has the letter O; a VIN never has I, O or Q, perhaps 0 is meant"));
        assertThat(problems(rows.get(3)))
                .containsExactly(
                        new Problem("VIN", "has 15 characters, a VIN has 17"),
                        new Problem("Max. mass", "says “heavy”, which is not a mass in kg or t"),
                        new Problem(
                                "Category",
                                "says “boat”; it is read as M1, M2, M3, N1, N2, N3 or a word such as car, van, truck,"
                                        + " bus"),
                        new Problem("Steering side", "says “middle”; it is read as left or right"),
                        new Problem("First registered", "says “30/02/2023”; there is no such day"),
                        new Problem("Glass fitted", "says “2031-01-01”, which is still to come"));
        assertThat(problems(rows.get(4)))
                .containsExactly(new Problem(
                        "column J",
                        "lies beyond the last heading; perhaps a separator stands inside a cell without quotation"
                                + " marks"));
        assertThat(problems(rows.get(6)))
                .containsExactly(new Problem("Registration", "has “/”, which no registration has"));
        assertThat(good(rows.get(9)).maximumMassKg()).isEqualTo(12_000);
    }

    @Test
    void noticesARowSwallowedByAQuotationMarkTooMany() throws IOException {
        var rows = rows("half-broken");
        assertThat(rows.get(8).number()).isEqualTo(10);
        assertThat(problems(rows.get(8)))
                .contains(new Problem(
                        "Depot", "holds line breaks and separators; a quotation mark is opened there and not closed"));
    }

    @Test
    void refusesAListWhoseLastQuotationMarkIsNotClosed() {
        assertRefused("quote-not-closed", ListRefused.Reason.QUOTE_NOT_CLOSED)
                .hasMessage("In row 2 a quotation mark is opened and not closed before the file ends.");
    }

    @Test
    void takesBackTheApostropheBeforeAFormula() throws IOException {
        var rows = rows("formulas");
        assertThat(good(rows.get(0)).registration().key()).isEqualTo("QV23KTB");
        assertThat(good(rows.get(0)).fleetNumber()).isEqualTo("=SUM(A1:A9)");
        assertThat(good(rows.get(0)).depot()).isEqualTo("+Millbeck");
        assertThat(good(rows.get(0)).notes()).isEqualTo("-2+3+cmd|' /C calc'!A0");
        assertThat(good(rows.get(1)).fleetNumber()).isEqualTo("'@home");
        assertThat(good(rows.get(1)).depot()).isEqualTo("'Thornby");
    }

    @Test
    void readsCellsQuotedByApostrophes() throws IOException {
        assertThat(open("apostrophe-quotes").shape().quote()).isEqualTo('\'');
        var line = good(rows("apostrophe-quotes").getFirst());
        assertThat(line.depot()).isEqualTo("Villanorte; patio 2");
        assertThat(line.notes()).isEqualTo("dos\nlíneas");
    }

    @Test
    void obeysALineThatNamesTheSeparator() throws IOException {
        assertThat(open("separator-line").shape().separator()).isEqualTo('|');
        assertThat(open("separator-line").shape().headingRow()).isEqualTo(1);
        assertThat(good(rows("separator-line").getFirst()).depot()).isEqualTo("Millbeck, yard 2; north");
    }

    @Test
    void asksStatisticsWhereTheLettersAreNotWestern() throws IOException {
        assertThat(open("cyrillic-windows-1251").shape().encoding()).isEqualTo(Charset.forName("windows-1251"));
        assertThat(good(rows("cyrillic-windows-1251").getFirst()).depot()).isEqualTo("Северный парк");
    }

    @Test
    void keepsOutARowWhoseCharactersCannotBeRead() throws IOException {
        var rows = rows("undefined-byte");
        assertThat(problems(rows.get(0)))
                .singleElement()
                .satisfies(problem -> assertThat(problem.reason()).contains("cannot be read"));
        assertThat(good(rows.get(1)).depot()).isEqualTo("Nord");
    }

    @Test
    void prefersTheColumnThatHoldsSomethingAndTheMoreUsualHeading() throws IOException {
        var shape = open("two-registration-columns").shape();
        assertThat(shape.columns())
                .containsExactly(
                        new Shape.Column(1, "Registration", Field.REGISTRATION),
                        new Shape.Column(3, "Location", Field.DEPOT));
        assertThat(shape.passedOver())
                .containsExactly(new Shape.PassedOver(0, "Plate", "“Registration” is read instead"));
    }

    @Test
    void prefersAHeadingOfItsOwnToOneThatHoldsMore() throws IOException {
        var list = open("Registration (old),Registration,Tyre/Model,Model\nQV11 AAA,QV12 ABC,Round,Box\n"
                .getBytes(StandardCharsets.UTF_8));
        assertThat(list.shape().columns())
                .containsExactly(
                        new Shape.Column(1, "Registration", Field.REGISTRATION),
                        new Shape.Column(3, "Model", Field.MODEL));
        assertThat(list.shape().passedOver())
                .containsExactly(
                        new Shape.PassedOver(0, "Registration (old)", "“Registration” is read instead"),
                        new Shape.PassedOver(2, "Tyre/Model", "“Model” is read instead"));
    }

    @Test
    void takesTextKeptFromBecomingANumberForText() throws IOException {
        var list = open("Registration;Fleet number;Depot\n=\"QV12 ABC\";=\"007\";\"'=\"\"Nord\"\"\"\n"
                .getBytes(StandardCharsets.UTF_8));
        try (var rows = list.rows()) {
            var line = good(rows.toList().getFirst());
            assertThat(line.registration().key()).isEqualTo("QV12ABC");
            assertThat(line.fleetNumber()).isEqualTo("007");
            assertThat(line.depot()).isEqualTo("=\"Nord\"");
        }
    }

    @Test
    void refusesAHeadingThatStandsTwice() {
        assertRefused("heading-twice", ListRefused.Reason.HEADING_TWICE)
                .hasMessage("Columns A and C are both headed as the registration: “Kennzeichen” and “Kennzeichen”."
                        + " Rename or remove one of them.");
    }

    @Test
    void refusesAListWithoutHeadings() {
        assertRefused("without-headings", ListRefused.Reason.NO_HEADINGS)
                .hasMessageContaining("The list begins with “");
    }

    @Test
    void refusesAListWithoutRegistration() {
        assertRefused("without-registration", ListRefused.Reason.NO_REGISTRATION)
                .hasMessage(
                        "Row 2 has headings, but none for the registration: “Fleet number”, “VIN”, “Depot”. Name its"
                                + " column Registration, Kennzeichen or Matrícula.");
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "\r\n\r\n", " \u00a0 ,,,\n", "\ufeff"})
    void refusesAFileWithNothingInIt(String text) {
        assertThatThrownBy(() -> open(text.getBytes(StandardCharsets.UTF_8)))
                .isInstanceOfSatisfying(
                        ListRefused.class,
                        refused -> assertThat(refused.reason())
                                .isIn(ListRefused.Reason.EMPTY, ListRefused.Reason.NO_HEADINGS));
    }

    @Test
    void refusesSpreadsheetsAndOtherFilesThatAreNotText() {
        byte[][] files = {
            {'P', 'K', 3, 4, 20, 0, 6, 0},
            {(byte) 0xd0, (byte) 0xcf, 0x11, (byte) 0xe0, (byte) 0xa1, (byte) 0xb1, 0x1a, (byte) 0xe1},
            "%PDF-1.7".getBytes(StandardCharsets.US_ASCII),
            {'R', 'e', 'g', 0, 1, 2, 3, 0, 0, 5, (byte) 0xff}
        };
        for (var file : files) {
            assertThatThrownBy(() -> open(file))
                    .hasMessageContaining("save it as CSV first")
                    .isInstanceOfSatisfying(
                            ListRefused.class,
                            refused -> assertThat(refused.reason()).isEqualTo(ListRefused.Reason.NOT_TEXT));
        }
    }

    @Test
    void refusesAFileLargerThanTheCallerAllows() {
        var source = ListSource.of(new byte[11]);
        assertThatThrownBy(() -> VehicleList.open(source, new Reading(10, DateOrder.DAY_FIRST, READING.today())))
                .isInstanceOf(ListRefused.class)
                .hasMessage("The file is larger than 10 bytes. Split it and send the parts one by one.");
    }

    @Test
    void refusesACellThatIsTooLongAndNamesItsRow() {
        var text = "Registration,Notes\nQV23 KTB,fine\nQV23 KTC," + "x".repeat(VehicleList.MAX_CELL_CHARS + 1) + "\n";
        assertThatThrownBy(() -> open(text.getBytes(StandardCharsets.UTF_8)))
                .isInstanceOf(ListRefused.class)
                .hasMessageStartingWith("Row 3 has more than 2 000 cells or a cell of more than 20 000 characters.");
    }

    @Test
    void seesAnUmlautInTheLastRowOnly() throws IOException {
        var text = "Registration,Depot\n" + "QV,Nord\n".repeat(30_000) + "QV 1,Süd\n";
        assertThat(open(text.getBytes(StandardCharsets.UTF_8)).shape().encoding())
                .isEqualTo(StandardCharsets.UTF_8);
        assertThat(open(text.getBytes(StandardCharsets.ISO_8859_1)).shape().encoding())
                .isEqualTo(Charset.forName("windows-1252"));
    }

    @Test
    void takesAnEmptyListForAListOfNoVehicles() throws IOException {
        var list = open("Registration;Depot\r\n".getBytes(StandardCharsets.UTF_8));
        assertThat(list.shape().rows()).isZero();
        try (var rows = list.rows()) {
            assertThat(rows).isEmpty();
        }
    }

    @Test
    void answersDamagedBytesWithRowsOrARefusalAndNothingElse() throws IOException {
        var random = new Random(20260302);
        for (var name : List.of("half-broken", "german-semicolon-windows-1252", "spanish-tab-utf16le", "formulas")) {
            var whole = Files.readAllBytes(file(name));
            for (var round = 0; round < 500; round++) {
                var damaged = Arrays.copyOf(whole, random.nextInt(1, whole.length + 1));
                for (var i = random.nextInt(6); i > 0; i--) {
                    damaged[random.nextInt(damaged.length)] = (byte) random.nextInt(256);
                }
                try (var rows = open(damaged).rows()) {
                    assertThat(rows).allSatisfy(row -> assertThat(row.number()).isPositive());
                } catch (ListRefused refused) {
                    assertThat(refused).hasMessageMatching("(?s)[A-Z].*\\.");
                }
            }
        }
    }

    @Test
    void keepsOutACharacterThatNoDatabaseTakes() throws IOException {
        var text = "\ufeffRegistration;Depot\nQV 1;No\u0000rd\n";
        try (var rows = open(text.getBytes(StandardCharsets.UTF_16LE)).rows()) {
            assertThat(rows)
                    .singleElement()
                    .satisfies(row -> assertThat(problems(row))
                            .extracting(Problem::column)
                            .containsExactly("Depot"));
        }
    }

    private static VehicleList open(String name) throws IOException {
        return VehicleList.open(ListSource.of(file(name)), READING);
    }

    private static VehicleList open(byte[] bytes) throws IOException {
        return VehicleList.open(ListSource.of(bytes), READING);
    }

    private static List<Row> rows(String name) throws IOException {
        try (var rows = open(name).rows()) {
            return rows.toList();
        }
    }

    private static VehicleLine good(Row row) {
        return switch (row) {
            case Row.Good found -> found.line();
            case Row.Bad found -> throw new AssertionError("row " + found.number() + ": " + found.problems());
        };
    }

    private static List<Problem> problems(Row row) {
        return switch (row) {
            case Row.Good found -> throw new AssertionError("good: " + found.line());
            case Row.Bad found -> found.problems();
        };
    }

    private static org.assertj.core.api.AbstractThrowableAssert<?, ? extends Throwable> assertRefused(
            String name, ListRefused.Reason reason) {
        return assertThatThrownBy(() -> open(name))
                .isInstanceOfSatisfying(
                        ListRefused.class,
                        refused -> assertThat(refused.reason()).isEqualTo(reason));
    }

    private static Path file(String name) {
        try {
            var place = VehicleListTests.class.getResource("/lists/" + name + ".csv");
            return Path.of(Objects.requireNonNull(place, name).toURI());
        } catch (URISyntaxException impossible) {
            throw new IllegalStateException(impossible);
        }
    }
}
