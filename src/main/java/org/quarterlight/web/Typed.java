package org.quarterlight.web;

import java.math.BigDecimal;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.springframework.core.convert.converter.Converter;
import org.springframework.format.FormatterRegistry;
import tools.jackson.core.JacksonException;
import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonToken;
import tools.jackson.databind.DeserializationContext;
import tools.jackson.databind.ValueDeserializer;
import tools.jackson.databind.deser.jdk.NumberDeserializers;
import tools.jackson.databind.module.SimpleModule;

/**
 * Numbers and times as they come in, from JSON and from forms, kept within what the service can work with: neither the
 * database nor a calculation takes 1e-99999999 or the year 999999999.
 */
final class Typed {
    /** Wide enough for any double written in full; a number of more digits is no measurement. */
    private static final int MOST_DIGITS = 40;

    private static final int LARGEST_POWER_OF_TEN = 6;
    private static final int FIRST_YEAR = 1950;
    private static final int LAST_YEAR = 2200;
    private static final Instant FIRST =
            LocalDate.of(FIRST_YEAR, 1, 1).atStartOfDay().toInstant(ZoneOffset.UTC);
    private static final Instant LAST =
            LocalDate.of(LAST_YEAR + 1, 1, 1).atStartOfDay().toInstant(ZoneOffset.UTC);

    /** Digits with at most one point or comma among them. */
    private static final Pattern NUMBER =
            Pattern.compile("[+-]?(\\d{1,40}([.,]\\d{0,40})?|[.,]\\d{1,40})([eE][+-]?\\d{1,2})?");

    private static final Pattern WHOLE_NUMBER = Pattern.compile("[+-]?\\d{1,10}");

    private Typed() {}

    static void addTo(SimpleModule module) {
        module.addDeserializer(BigDecimal.class, new Numbers());
        module.addDeserializer(LocalDate.class, new Dates());
        module.addDeserializer(Instant.class, new Instants());
    }

    static void addTo(FormatterRegistry registry) {
        registry.addConverter(String.class, LocalDate.class, typed(Typed::date));
        registry.addConverter(String.class, OffsetDateTime.class, typed(Typed::moment));
        registry.addConverter(
                String.class, Instant.class, typed(text -> moment(text).toInstant()));
    }

    /** A number as people type it: a decimal comma is as good as a point. */
    static BigDecimal number(String text) {
        var typed = text.strip();
        if (!NUMBER.matcher(typed).matches()) {
            throw new IllegalArgumentException("not a number");
        }
        var number = new BigDecimal(typed.replace(',', '.'));
        if (!usable(number)) {
            throw new IllegalArgumentException("not a number that can be worked with");
        }
        return number;
    }

    /** Decimal digits alone: the usual reading takes 0x1F and #1F as well. */
    static int wholeNumber(String text) {
        var digits = text.strip();
        if (!WHOLE_NUMBER.matcher(digits).matches()) {
            throw new IllegalArgumentException("not a whole number");
        }
        return Integer.parseInt(digits);
    }

    static boolean usable(BigDecimal number) {
        return number.precision() <= MOST_DIGITS
                && number.scale() <= MOST_DIGITS
                && number.scale() >= -LARGEST_POWER_OF_TEN;
    }

    private static LocalDate date(String text) {
        var date = LocalDate.parse(text.strip());
        if (!usable(date)) {
            throw new IllegalArgumentException("not a date that can be worked with");
        }
        return date;
    }

    private static OffsetDateTime moment(String text) {
        var moment = OffsetDateTime.parse(text.strip());
        if (!usable(moment.toInstant())) {
            throw new IllegalArgumentException("not a time that can be worked with");
        }
        return moment;
    }

    private static boolean usable(LocalDate date) {
        return date.getYear() >= FIRST_YEAR && date.getYear() <= LAST_YEAR;
    }

    static boolean usable(Instant moment) {
        return !moment.isBefore(FIRST) && moment.isBefore(LAST);
    }

    /** What a field was expected to hold, as the end of a sentence that begins with its name. */
    static @Nullable String expected(Class<?> type) {
        return switch (type.getSimpleName()) {
            case "Instant", "OffsetDateTime" ->
                "is not a time between %d and %d, such as 2026-03-02T07:40:00+01:00".formatted(FIRST_YEAR, LAST_YEAR);
            case "LocalDate" -> "is not a date between %d and %d, such as 2026-03-02".formatted(FIRST_YEAR, LAST_YEAR);
            case "LocalTime" -> "is not a time of day such as 07:40";
            case "BigDecimal", "double", "Double" -> "is not a number";
            case "int", "Integer", "long", "Long" -> "is not a whole number";
            default -> null;
        };
    }

    private static <T> Converter<String, T> typed(Converter<String, T> read) {
        return new Converter<>() {
            @Override
            @SuppressWarnings("NullAway") // an empty field of a form holds no value
            public @Nullable T convert(String text) {
                return text.isBlank() ? null : read.convert(text);
            }
        };
    }

    private static final class Numbers extends NumberDeserializers.BigDecimalDeserializer {
        @Override
        public BigDecimal deserialize(JsonParser parser, DeserializationContext context) throws JacksonException {
            var number = super.deserialize(parser, context);
            if (number != null && !usable(number)) {
                throw context.weirdNumberException(number, BigDecimal.class, "out of range");
            }
            return number;
        }
    }

    /** From text alone, in ISO 8601: a bare number says nothing of its unit. */
    private abstract static class Written<T> extends ValueDeserializer<T> {
        private final Class<T> type;

        Written(Class<T> type) {
            this.type = type;
        }

        abstract T read(String text);

        @Override
        @SuppressWarnings("NullAway") // an empty text holds no value, as in a form
        public @Nullable T deserialize(JsonParser parser, DeserializationContext context) throws JacksonException {
            if (!parser.hasToken(JsonToken.VALUE_STRING)) {
                return type.cast(context.handleUnexpectedToken(context.constructType(type), parser));
            }
            var text = parser.getString();
            if (text.isBlank()) {
                return null;
            }
            try {
                return read(text);
            } catch (DateTimeException | IllegalArgumentException e) {
                throw context.weirdStringException(text, type, "out of range");
            }
        }
    }

    private static final class Dates extends Written<LocalDate> {
        Dates() {
            super(LocalDate.class);
        }

        @Override
        LocalDate read(String text) {
            return date(text);
        }
    }

    private static final class Instants extends Written<Instant> {
        Instants() {
            super(Instant.class);
        }

        @Override
        Instant read(String text) {
            return moment(text).toInstant();
        }
    }
}
