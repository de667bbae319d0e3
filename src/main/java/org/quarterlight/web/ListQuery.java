package org.quarterlight.web;

import java.nio.charset.StandardCharsets;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Base64;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.RowCallbackHandler;
import org.springframework.jdbc.core.RowMapper;
import org.springframework.jdbc.core.simple.JdbcClient;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.json.JsonMapper;

/**
 * A list that filters, sorts and pages in SQL, by keyset: a page begins after the last row of the one before, so the
 * thousandth page costs what the first does, and rows that come or go between shift nothing. The sort's columns must not
 * be null and must end in one that is unique. The SQL is the caller's own; what people typed goes in as parameters only.
 */
public final class ListQuery {
    /** Counting stops here: a page says "more than" beyond it. */
    public static final int COUNTED_AT_MOST = 10_000;

    private static final int ROWS_AT_A_TIME = 1000;

    private static final JsonMapper JSON = new JsonMapper();

    private final String columns;
    private final String from;
    private final List<String> conditions = new ArrayList<>();
    private final Map<String, @Nullable Object> parameters = new LinkedHashMap<>();

    /**
     * @param columns what is selected
     * @param from tables and joins
     */
    public ListQuery(String columns, String from) {
        this.columns = columns;
        this.from = from;
    }

    /** A column to sort by. Its type is named, for the cursor brings the value back as text. */
    public record Key(String expression, String type) {}

    /** An order with a name, which is part of the cursor. All columns go the same way. */
    public record Order(String name, boolean descending, List<Key> keys) {
        public Order {
            keys = List.copyOf(keys);
        }

        public static Order ascending(String name, Key... keys) {
            return new Order(name, false, List.of(keys));
        }

        public static Order descending(String name, Key... keys) {
            return new Order(name, true, List.of(keys));
        }

        private String columns() {
            return keys.stream()
                    .map(key -> key.expression() + (descending ? " desc" : ""))
                    .collect(Collectors.joining(", "));
        }
    }

    public ListQuery where(String condition) {
        conditions.add(condition);
        return this;
    }

    public ListQuery where(String condition, String parameter, @Nullable Object value) {
        conditions.add(condition);
        parameters.put(parameter, value);
        return this;
    }

    /** A value that conditions added without one refer to. */
    public ListQuery parameter(String name, @Nullable Object value) {
        parameters.put(name, value);
        return this;
    }

    /** A condition that only applies where there is a value to compare with. */
    public ListQuery whereGiven(String condition, String parameter, @Nullable Object value) {
        return value == null ? this : where(condition, parameter, value);
    }

    /** Up to {@link #COUNTED_AT_MOST} + 1. */
    public long count(JdbcClient jdbc) {
        return jdbc.sql("select count(*) from (select 1 from " + from + whereClause(List.of()) + " limit "
                        + (COUNTED_AT_MOST + 1) + ") counted")
                .params(parameters)
                .query(Long.class)
                .single();
    }

    /** Figures of the whole list, a row for each group; those without a value to group by come last. */
    public <T> List<T> grouped(JdbcClient jdbc, String figures, String by, RowMapper<T> mapper) {
        return jdbc.sql("select " + figures + " from " + from + whereClause(List.of()) + " group by " + by
                        + " order by " + by + " nulls last")
                .params(parameters)
                .query(mapper)
                .list();
    }

    /** The part that was asked for. */
    public <T> Slice<T> slice(JdbcClient jdbc, Order order, SliceRequest wanted, RowMapper<T> mapper) {
        var keys = order.keys();
        var all = new LinkedHashMap<>(parameters);
        var extra = new ArrayList<String>();
        if (wanted.after() != null) {
            var values = read(wanted.after(), order);
            IntStream.range(0, values.size()).forEach(i -> all.put("key" + i, values.get(i)));
            extra.add("(" + keys.stream().map(Key::expression).collect(Collectors.joining(", ")) + ") "
                    + (order.descending() ? "<" : ">") + " ("
                    + IntStream.range(0, keys.size())
                            .mapToObj(
                                    i -> "cast(:key" + i + " as " + keys.get(i).type() + ")")
                            .collect(Collectors.joining(", "))
                    + ")");
        }
        var selected = IntStream.range(0, keys.size())
                .mapToObj(i -> "cast(" + keys.get(i).expression() + " as text) as sort_key_" + i)
                .collect(Collectors.joining(", "));
        var sql = "select " + columns + ", " + selected + " from " + from + whereClause(extra) + " order by "
                + order.columns() + " limit " + (wanted.limit() + 1);
        record Row<R>(R item, List<String> keys) {}
        var query = jdbc.sql(sql).params(all).query((result, number) -> {
            var ends = new ArrayList<String>();
            for (int i = 0; i < keys.size(); i++) {
                ends.add(result.getString("sort_key_" + i));
            }
            return new Row<T>(mapper.mapRow(result, number), ends);
        });
        List<Row<T>> rows;
        try {
            rows = query.list();
        } catch (DataAccessException e) {
            // The cursor is the only value that the database is left to read.
            throw wanted.after() != null && cannotBeRead(e) ? notACursor() : e;
        }
        var more = rows.size() > wanted.limit();
        var shown = more ? rows.subList(0, wanted.limit()) : rows;
        return new Slice<>(
                shown.stream().map(Row::item).toList(),
                more ? write(order, shown.getLast().keys()) : null);
    }

    /** All of it, row by row within a transaction, so that memory does not grow with the list. */
    public void each(JdbcClient jdbc, Order order, RowCallbackHandler row) {
        jdbc.sql("select " + columns + " from " + from + whereClause(List.of()) + " order by " + order.columns())
                .params(parameters)
                .withFetchSize(ROWS_AT_A_TIME)
                .query(row);
    }

    private String whereClause(List<String> extra) {
        var all = new ArrayList<>(conditions);
        all.addAll(extra);
        return all.isEmpty() ? "" : " where " + all.stream().collect(Collectors.joining(") and (", "(", ")"));
    }

    private static String write(Order order, List<String> values) {
        var content = new ArrayList<String>();
        content.add(order.name());
        content.addAll(values);
        return Base64.getUrlEncoder().withoutPadding().encodeToString(JSON.writeValueAsBytes(content));
    }

    private static List<String> read(String cursor, Order order) {
        try {
            var text = new String(Base64.getUrlDecoder().decode(cursor), StandardCharsets.UTF_8);
            var content = JSON.readValue(text, String[].class);
            if (content.length == order.keys().size() + 1 && order.name().equals(content[0])) {
                return List.of(content).subList(1, content.length);
            }
        } catch (IllegalArgumentException | JacksonException | NullPointerException e) {
            // fall through: not a cursor of ours
        }
        throw notACursor();
    }

    /** Class 22 of the SQL states: data exceptions. */
    private static boolean cannotBeRead(DataAccessException e) {
        return e.getMostSpecificCause() instanceof SQLException cause
                && String.valueOf(cause.getSQLState()).startsWith("22");
    }

    private static Invalid notACursor() {
        return new Invalid("after", "This is not a cursor that this list gave out in this order");
    }
}
