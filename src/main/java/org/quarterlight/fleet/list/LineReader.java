package org.quarterlight.fleet.list;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/** Turns the cells of a row into a vehicle, or into everything that is wrong with them. Remembers the registrations. */
final class LineReader {
    private static final int MAX_TEXT_CHARS = 200;
    private static final int MAX_NOTES_CHARS = 4_000;
    private static final char UNREADABLE = '\ufffd';
    private static final Set<String> SUMS = Set.of("TOTAL", "TOTALS", "SUMME", "GESAMT", "SUMA", "TOTALES");

    private final Shape shape;
    private final Reading reading;
    private final Map<Field, Shape.Column> columns = new EnumMap<>(Field.class);
    private final Map<Field, DateOrder> orders = new EnumMap<>(Field.class);
    private final String massUnit;
    private final Map<String, Integer> seen = new HashMap<>();

    private List<String> cells = List.of();
    private List<Problem> problems = new ArrayList<>();
    private List<Problem> warnings = new ArrayList<>();

    LineReader(Shape shape, Reading reading) {
        this.shape = shape;
        this.reading = reading;
        for (var column : shape.columns()) {
            columns.put(column.field(), column);
            shape.dates().stream()
                    .filter(dates -> dates.heading().equals(column.heading()))
                    .filter(dates -> dates.decidedBy() != Shape.DecidedBy.CONTRADICTION)
                    .forEach(dates -> orders.put(column.field(), dates.order()));
        }
        var mass = columns.get(Field.MAXIMUM_MASS);
        massUnit = mass == null ? "" : Headings.unit(mass.heading());
    }

    /** Lists printed page by page repeat their headings. */
    boolean repeatsHeadings(List<String> row) {
        for (var column : shape.columns()) {
            if (column.index() >= row.size()
                    || !Cells.trimmed(row.get(column.index())).equals(column.heading())) {
                return false;
            }
        }
        return true;
    }

    Row read(int number, List<String> row) {
        cells = row;
        problems = new ArrayList<>();
        warnings = new ArrayList<>();
        noteExtraCells();
        var registration = registration(number);
        var vin = vin();
        var massKg = parsed(Field.MAXIMUM_MASS, text -> MassText.parse(text, massUnit));
        var category = parsed(Field.CATEGORY, text -> CategoryText.parse(text, massKg));
        var side = parsed(Field.STEERING_SIDE, SideText::parse);
        var depot = text(Field.DEPOT);
        var make = text(Field.MAKE);
        var model = text(Field.MODEL);
        var fleetNumber = text(Field.FLEET_NUMBER);
        var firstRegistered = date(Field.FIRST_REGISTERED);
        var glassFitted = date(Field.GLASS_FITTED);
        var notes = text(Field.NOTES);
        if (registration == null || !problems.isEmpty()) {
            return new Row.Bad(number, List.copyOf(problems), row);
        }
        var line = new VehicleLine(
                registration,
                vin,
                category,
                massKg,
                side,
                depot,
                make,
                model,
                fleetNumber,
                firstRegistered,
                glassFitted,
                notes);
        return new Row.Good(number, line, List.copyOf(warnings), row);
    }

    private void noteExtraCells() {
        for (var i = shape.headings().size(); i < cells.size(); i++) {
            if (!Cells.trimmed(cells.get(i)).isEmpty()) {
                problems.add(new Problem(
                        "column " + letters(i),
                        "lies beyond the last heading; perhaps a separator stands inside a cell without quotation"
                                + " marks"));
                return;
            }
        }
    }

    private @Nullable Registration registration(int number) {
        var typed = cell(Field.REGISTRATION);
        if (typed == null) {
            problem(Field.REGISTRATION, "is missing");
            return null;
        }
        var wrong = Registration.problemOf(typed);
        if (wrong.isPresent()) {
            problem(Field.REGISTRATION, wrong.get());
            return null;
        }
        var registration = Registration.of(typed);
        if (SUMS.contains(registration.key())) {
            problem(Field.REGISTRATION, "says " + Parsed.quoted(typed) + ", which looks like a sum and not a vehicle");
            return null;
        }
        var first = seen.putIfAbsent(registration.key(), number);
        if (first != null) {
            problem(Field.REGISTRATION, registration.shown() + " is in row " + first + " already");
            return null;
        }
        return registration;
    }

    private @Nullable Vin vin() {
        var typed = cell(Field.VIN);
        if (typed == null) {
            return null;
        }
        var wrong = Vin.problemOf(typed);
        if (wrong.isPresent()) {
            problem(Field.VIN, wrong.get());
            return null;
        }
        var vin = new Vin(typed);
        if (!vin.checkDigitFits()) {
            warnings.add(new Problem(
                    heading(Field.VIN),
                    "has " + vin.value().charAt(8) + " as its ninth character, the check digit would be "
                            + vin.expectedCheckDigit() + "; that matters only where check digits are binding"));
        }
        return vin;
    }

    private @Nullable LocalDate date(Field field) {
        return parsed(field, text -> DateText.parse(text, orders.get(field), reading.today()));
    }

    private @Nullable String text(Field field) {
        var text = cell(field);
        if (text == null) {
            return null;
        }
        var most = field == Field.NOTES ? MAX_NOTES_CHARS : MAX_TEXT_CHARS;
        if (text.length() > most) {
            problem(field, "has " + text.length() + " characters, at most " + most + " are kept");
        } else if (swallowsOthers(field, text)) {
            problem(field, "holds line breaks and separators; a quotation mark is opened there and not closed");
        }
        return text;
    }

    /** A quotation mark too many makes one cell of the rest of this row and the start of a later one. */
    private boolean swallowsOthers(Field field, String text) {
        if (text.indexOf('\n') < 0 && text.indexOf('\r') < 0) {
            return false;
        }
        var separators = text.chars().filter(c -> c == shape.separator()).count();
        var cellsOfRow = shape.headings().size();
        return separators > 0 && separators >= (field == Field.NOTES ? cellsOfRow - 1 : cellsOfRow / 2);
    }

    private <T> @Nullable T parsed(Field field, Function<String, Parsed<T>> parser) {
        var text = cell(field);
        if (text == null) {
            return null;
        }
        return switch (parser.apply(text)) {
            case Parsed.Value<T>(var value) -> value;
            case Parsed.Doubtful<T>(var value, var warning) -> {
                warnings.add(new Problem(heading(field), warning));
                yield value;
            }
            case Parsed.Wrong<T>(var reason) -> {
                problem(field, reason);
                yield null;
            }
        };
    }

    /** What the row says for a field; null where it says nothing. */
    private @Nullable String cell(Field field) {
        var column = columns.get(field);
        if (column == null || column.index() >= cells.size()) {
            return null;
        }
        var said = Cells.said(cells.get(column.index()));
        if (said != null && (said.indexOf(UNREADABLE) >= 0 || said.indexOf('\0') >= 0)) {
            problem(field, "has a character that cannot be read: " + Parsed.quoted(said));
            return null;
        }
        return said;
    }

    private void problem(Field field, String reason) {
        problems.add(new Problem(heading(field), reason));
    }

    private String heading(Field field) {
        var column = columns.get(field);
        return column == null ? field.words() : column.heading();
    }

    /** A column as spreadsheets name it: A, B, … Z, AA. */
    static String letters(int index) {
        var letters = new StringBuilder();
        for (var i = index; i >= 0; i = i / 26 - 1) {
            letters.append((char) ('A' + i % 26));
        }
        return letters.reverse().toString();
    }
}
