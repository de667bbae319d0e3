package org.quarterlight.fleet.web;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Pattern;
import java.math.BigDecimal;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.DepotView;
import org.quarterlight.fleet.OpeningHours;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.kernel.Invalid;

/** A depot as it is typed. A day without hours is closed. */
class DepotForm {
    @NotBlank(message = "Give the depot a name")
    @Nullable
    String name;

    @Nullable
    String address;

    @NotNull(message = "Give the latitude in degrees")
    @Nullable
    BigDecimal latitude;

    @NotNull(message = "Give the longitude in degrees")
    @Nullable
    BigDecimal longitude;

    @NotBlank(message = "Give the time zone, such as Europe/London")
    @Nullable
    String zone;

    @NotBlank(message = "Give the country")
    @Pattern(regexp = "\\s*[A-Za-z]{2}\\s*", message = "Give two letters, such as GB")
    @Nullable
    String country;

    @Nullable
    String subdivision;

    @Nullable
    Integer coveredBays;

    @Nullable
    String contact;

    /** One day a line, as people type them. */
    @Nullable
    String closedOn;

    Map<String, String> opens = new LinkedHashMap<>();
    Map<String, String> closes = new LinkedHashMap<>();

    /** The version that the form was filled from. */
    int version;

    void fill(DepotView depot) {
        name = depot.name();
        address = depot.address();
        latitude = depot.latitude();
        longitude = depot.longitude();
        zone = depot.zone().getId();
        country = depot.country();
        subdivision = depot.subdivision();
        coveredBays = depot.coveredBays();
        contact = depot.contact();
        closedOn = words(depot.closedOn());
        fill(depot.openingHours());
        version = depot.version();
    }

    void fill(OpeningHours hours) {
        hours.days().forEach((day, open) -> {
            opens.put(word(day), open.opens().toString());
            closes.put(word(day), open.closes().toString());
        });
    }

    SaveDepot command() {
        return new SaveDepot(
                Objects.requireNonNull(name),
                address,
                Objects.requireNonNull(latitude),
                Objects.requireNonNull(longitude),
                Objects.requireNonNull(zone),
                Objects.requireNonNull(country).trim().toUpperCase(Locale.ROOT),
                subdivision,
                hours(),
                coveredBays,
                contact,
                closed());
    }

    private Set<LocalDate> closed() {
        var days = new TreeSet<LocalDate>();
        for (var line : Objects.requireNonNullElse(closedOn, "").split("[\\s,;]+")) {
            if (!line.isBlank()) {
                try {
                    days.add(LocalDate.parse(line));
                } catch (DateTimeParseException e) {
                    throw new Invalid("closedOn", "Give each day like 2026-12-25, one in a line; not " + line);
                }
            }
        }
        return days;
    }

    /** As they are typed: one in a line, the first first. */
    static String words(Set<LocalDate> days) {
        return days.stream().sorted().map(LocalDate::toString).collect(Collectors.joining("\n"));
    }

    private OpeningHours hours() {
        var days = new EnumMap<DayOfWeek, OpeningHours.Hours>(DayOfWeek.class);
        for (var day : DayOfWeek.values()) {
            var from = opens.getOrDefault(word(day), "");
            var to = closes.getOrDefault(word(day), "");
            if (from.isBlank() && to.isBlank()) {
                continue;
            }
            try {
                days.put(day, new OpeningHours.Hours(LocalTime.parse(from.trim()), LocalTime.parse(to.trim())));
            } catch (DateTimeParseException e) {
                throw new Invalid("openingHours", "Give both hours of " + word(day) + ", such as 08:00, or none");
            }
        }
        return new OpeningHours(days);
    }

    /** Hours as they stand beside each other when two people wrote differently. */
    static String words(OpeningHours hours) {
        var all = new StringBuilder();
        for (var day : DayOfWeek.values()) {
            var open = hours.days().get(day);
            if (open != null) {
                all.append(all.isEmpty() ? "" : ", ")
                        .append(word(day), 0, 3)
                        .append(' ')
                        .append(open.opens())
                        .append('–')
                        .append(open.closes());
            }
        }
        return all.toString();
    }

    private static String word(DayOfWeek day) {
        return day.name().toLowerCase(Locale.ROOT);
    }
}
