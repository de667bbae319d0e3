package org.quarterlight.fleet.list;

import de.siegmar.fastcsv.reader.CloseableIterator;
import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.io.FilterReader;
import java.io.IOException;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Objects;
import java.util.Spliterator;
import java.util.Spliterators;
import java.util.TreeMap;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.jspecify.annotations.Nullable;

/**
 * A fleet's own list of vehicles as a CSV file of unknown make. Opening looks it over once, from end to end, and refuses
 * what cannot be read at all; the rows are then streamed, as often as wanted. Memory does not grow with the file, except
 * for the registrations already seen, some 100 bytes a row.
 */
public final class VehicleList {
    /** More rows than this are refused. */
    public static final int MAX_ROWS = 200_000;

    public static final int MAX_COLUMNS = 2_000;
    public static final int MAX_CELL_CHARS = 20_000;
    public static final int MAX_ROW_CHARS = 400_000;

    private final ListSource source;
    private final Encoding encoding;
    private final Layout layout;
    private final Shape shape;
    private final Reading reading;

    private VehicleList(ListSource source, Encoding encoding, Layout layout, Shape shape, Reading reading) {
        this.source = source;
        this.encoding = encoding;
        this.layout = layout;
        this.shape = shape;
        this.reading = reading;
    }

    /** Looks the list over. Throws {@link ListRefused} where no row of it can be read. */
    public static VehicleList open(ListSource source, Reading reading) throws IOException {
        var encoding = Encoding.of(source, reading.maxBytes());
        Layout layout;
        try (var reader = encoding.reader(source)) {
            layout = Layout.of(reader);
        }
        var survey = Survey.of(source, encoding, layout);
        var shape = survey.shape(encoding, layout, reading.dateHabit());
        return new VehicleList(source, encoding, layout, shape, reading);
    }

    public Shape shape() {
        return shape;
    }

    /**
     * The rows below the headings, one by one; blank rows and repeated headings are left out. To be closed, as the file
     * stays open until then. Throws UncheckedIOException where the file cannot be read on.
     */
    public Stream<Row> rows() throws IOException {
        var reader = encoding.reader(source);
        CsvReader<CsvRecord> records;
        try {
            records = layout.records(reader);
        } catch (IOException | RuntimeException failure) {
            reader.close();
            throw failure;
        }
        var rows = new Rows(records.iterator(), new LineReader(shape, reading), shape);
        return StreamSupport.stream(
                        Spliterators.spliteratorUnknownSize(rows, Spliterator.ORDERED | Spliterator.NONNULL), false)
                .onClose(() -> {
                    try {
                        records.close();
                    } catch (IOException failure) {
                        throw new UncheckedIOException(failure);
                    }
                });
    }

    static boolean isBlank(CsvRecord found) {
        for (var i = 0; i < found.getFieldCount(); i++) {
            if (!isBlank(found.getField(i))) {
                return false;
            }
        }
        return true;
    }

    private static boolean isBlank(String cell) {
        for (var i = 0; i < cell.length(); i++) {
            if (!Cells.isBlank(cell.charAt(i))) {
                return false;
            }
        }
        return true;
    }

    /** Numbers the records as a spreadsheet does and hands on those that say something. */
    private static final class Rows implements Iterator<Row> {
        private final CloseableIterator<CsvRecord> records;
        private final LineReader lines;
        private final Shape shape;
        private int number;
        private @Nullable Row next;

        Rows(CloseableIterator<CsvRecord> records, LineReader lines, Shape shape) {
            this.records = records;
            this.lines = lines;
            this.shape = shape;
        }

        @Override
        public boolean hasNext() {
            while (next == null && records.hasNext()) {
                var found = records.next();
                number++;
                if (number > shape.headingRow() && !isBlank(found)) {
                    var cells = found.getFields().stream().map(Cells::asTyped).toList();
                    next = lines.repeatsHeadings(cells) ? null : lines.read(number, cells);
                }
            }
            return next != null;
        }

        @Override
        public Row next() {
            if (!hasNext() || next == null) {
                throw new NoSuchElementException();
            }
            var row = next;
            next = null;
            return row;
        }
    }

    /** What only the whole list can tell: how many rows, which columns hold anything, how dates are ordered. */
    private static final class Survey {
        private final BitSet filled = new BitSet();
        private final Map<Integer, DateText.Evidence> dates = new TreeMap<>();
        private int rows;

        static Survey of(ListSource source, Encoding encoding, Layout layout) throws IOException {
            var survey = new Survey();
            for (var i = 0; i < layout.headings().size(); i++) {
                var meaning = Headings.meaning(layout.headings().get(i));
                if (meaning != null && isDate(meaning.field())) {
                    survey.dates.put(i, new DateText.Evidence());
                }
            }
            var number = 0;
            @Nullable CsvRecord last = null;
            try (var quotes = new QuoteCounter(encoding.reader(source), layout.quote());
                    var records = layout.records(quotes)) {
                for (var found : records) {
                    number++;
                    last = found;
                    if (number > layout.headingRow() && !isBlank(found)) {
                        survey.note(found);
                    }
                }
                if (last != null && quotes.isOdd() && runsOverLines(last)) {
                    throw new ListRefused(
                            ListRefused.Reason.QUOTE_NOT_CLOSED,
                            "In row " + number + " a quotation mark is opened and not closed before the file ends.");
                }
            } catch (CsvParseException tooLong) {
                throw new ListRefused(
                        ListRefused.Reason.ROW_TOO_LONG,
                        "Row " + (number + 1) + " has more than " + spaced(MAX_COLUMNS)
                                + " cells or a cell of more than "
                                + spaced(MAX_CELL_CHARS)
                                + " characters. Perhaps a quotation mark is opened there and not closed.");
            }
            return survey;
        }

        private void note(CsvRecord found) {
            rows++;
            if (rows > MAX_ROWS) {
                throw new ListRefused(
                        ListRefused.Reason.TOO_MANY_ROWS,
                        "The list has more than " + spaced(MAX_ROWS)
                                + " rows, the most that are read at once. Split it and send the parts one by one.");
            }
            for (var i = 0; i < found.getFieldCount(); i++) {
                if (!filled.get(i) && !isBlank(found.getField(i))) {
                    filled.set(i);
                }
            }
            dates.forEach((i, evidence) -> {
                if (i < found.getFieldCount()) {
                    evidence.note(Cells.trimmed(Cells.asTyped(found.getField(i))));
                }
            });
        }

        Shape shape(Encoding encoding, Layout layout, DateOrder habit) {
            var columns = new EnumMap<Field, Shape.Column>(Field.class);
            var ranks = new EnumMap<Field, Integer>(Field.class);
            var passedOver = new ArrayList<Shape.PassedOver>();
            var headings = layout.headings();
            for (var i = 0; i < headings.size(); i++) {
                var heading = headings.get(i);
                var meaning = Headings.meaning(heading);
                if (meaning == null) {
                    if (filled.get(i)) {
                        passedOver.add(heading.isEmpty() ? nameless(i) : unknown(i, heading));
                    }
                    continue;
                }
                var field = meaning.field();
                var rival = columns.get(field);
                var column = new Shape.Column(i, heading, field);
                if (rival == null || (filled.get(i) && !filled.get(rival.index()))) {
                    columns.put(field, column);
                    ranks.put(field, meaning.rank());
                } else if (filled.get(i)) {
                    var rank = ranks.getOrDefault(field, 0);
                    if (rank == meaning.rank()) {
                        throw twice(rival, column);
                    }
                    var moreUsual = meaning.rank() < rank;
                    var better = moreUsual ? column : rival;
                    var worse = moreUsual ? rival : column;
                    columns.put(field, better);
                    ranks.put(field, Math.min(rank, meaning.rank()));
                    passedOver.add(new Shape.PassedOver(
                            worse.index(), worse.heading(), "“" + better.heading() + "” is read instead"));
                }
            }
            filled.stream()
                    .filter(i -> i >= headings.size())
                    .mapToObj(Survey::nameless)
                    .forEach(passedOver::add);
            var read = columns.values().stream()
                    .sorted(Comparator.comparingInt(Shape.Column::index))
                    .toList();
            passedOver.sort(Comparator.comparingInt(Shape.PassedOver::index));
            return new Shape(
                    encoding.charset(),
                    layout.separator(),
                    layout.quote(),
                    layout.headingRow(),
                    headings,
                    read,
                    List.copyOf(passedOver),
                    rows,
                    dateOrders(read, habit));
        }

        private List<Shape.Dates> dateOrders(List<Shape.Column> read, DateOrder habit) {
            var orders = new ArrayList<Shape.Dates>();
            for (var column : read) {
                var evidence = dates.get(column.index());
                if (evidence == null || !evidence.ordered()) {
                    continue;
                }
                var own = evidence.decided();
                var others = dates.values().stream()
                        .map(DateText.Evidence::decided)
                        .filter(Objects::nonNull)
                        .distinct()
                        .toList();
                if (evidence.contradicts()) {
                    orders.add(new Shape.Dates(column.heading(), habit, Shape.DecidedBy.CONTRADICTION));
                } else if (own != null) {
                    orders.add(new Shape.Dates(column.heading(), own, Shape.DecidedBy.ITS_VALUES));
                } else if (others.size() == 1) {
                    orders.add(new Shape.Dates(column.heading(), others.getFirst(), Shape.DecidedBy.ANOTHER_COLUMN));
                } else {
                    orders.add(new Shape.Dates(column.heading(), habit, Shape.DecidedBy.HABIT));
                }
            }
            return List.copyOf(orders);
        }

        private static boolean isDate(Field field) {
            return field == Field.FIRST_REGISTERED || field == Field.GLASS_FITTED;
        }

        private static ListRefused twice(Shape.Column one, Shape.Column other) {
            return new ListRefused(
                    ListRefused.Reason.HEADING_TWICE,
                    "Columns " + LineReader.letters(one.index()) + " and " + LineReader.letters(other.index())
                            + " are both headed as the " + one.field().words() + ": “" + one.heading() + "” and “"
                            + other.heading() + "”. Rename or remove one of them.");
        }

        private static Shape.PassedOver nameless(int index) {
            return new Shape.PassedOver(index, "column " + LineReader.letters(index), "has no heading");
        }

        private static Shape.PassedOver unknown(int index, String heading) {
            return new Shape.PassedOver(index, heading, "is not among the columns that are read");
        }

        private static boolean runsOverLines(CsvRecord found) {
            return found.getFields().stream().anyMatch(cell -> cell.indexOf('\n') >= 0 || cell.indexOf('\r') >= 0);
        }
    }

    static String spaced(int number) {
        return String.format(Locale.ROOT, "%,d", number).replace(',', ' ');
    }

    /** An odd number of quotation marks means that one is not closed. */
    private static final class QuoteCounter extends FilterReader {
        private final char quote;
        private boolean odd;

        QuoteCounter(Reader reader, char quote) {
            super(reader);
            this.quote = quote;
        }

        boolean isOdd() {
            return odd;
        }

        @Override
        public int read() throws IOException {
            var c = super.read();
            odd ^= c == quote;
            return c;
        }

        @Override
        public int read(char[] chars, int offset, int length) throws IOException {
            var read = super.read(chars, offset, length);
            for (var i = offset; i < offset + read; i++) {
                odd ^= chars[i] == quote;
            }
            return read;
        }
    }
}
