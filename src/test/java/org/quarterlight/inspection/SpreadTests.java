package org.quarterlight.inspection;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.Predicate;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Spreading inspections over days, without a database. */
class SpreadTests {
    private static final LocalDate MONDAY = LocalDate.parse("2026-12-07");
    private static final Predicate<LocalDate> WEEKDAYS =
            day -> day.getDayOfWeek().compareTo(DayOfWeek.FRIDAY) <= 0;

    @Test
    void spreadsEvenlyWhatIsDueAtTheEnd() {
        var result = spread(MONDAY, MONDAY.plusDays(4), 10, Map.of()).place(due(10, MONDAY.plusDays(4)));

        assertThat(perDay(result).values()).containsOnly(2).hasSize(5);
        assertThat(result.placed()).noneMatch(Spread.Placed::late);
    }

    @Test
    void leavesNoDayTooEarlyFullWhereLittleIsToBeDone() {
        var result = spread(MONDAY, MONDAY.plusDays(11), 8, Map.of()).place(due(5, MONDAY.plusDays(11)));

        // Ten open days in two weeks, five to do: every second of them.
        assertThat(perDay(result))
                .hasSize(5)
                .allSatisfy((day, count) -> assertThat(count).isEqualTo(1));
        assertThat(perDay(result).keySet())
                .contains(MONDAY, MONDAY.plusDays(10))
                .allMatch(WEEKDAYS);
    }

    @Test
    void doesBeforeTheWeekendWhatFallsDueOnIt() {
        var result = spread(MONDAY, MONDAY.plusDays(13), 3, Map.of()).place(due(6, MONDAY.plusDays(6)));

        assertThat(result.placed()).hasSize(6).allMatch(each -> !each.on().isAfter(MONDAY.plusDays(4)));
    }

    @Test
    void whatIsOverdueComesFirstAndIsLate() {
        var all = new ArrayList<>(due(3, MONDAY.minusDays(9)));
        all.addAll(due(4, MONDAY.plusDays(4)));
        var result = spread(MONDAY, MONDAY.plusDays(4), 2, Map.of()).place(all);

        assertThat(result.left()).isEmpty();
        assertThat(result.placed().stream().filter(Spread.Placed::late)).hasSize(3);
        assertThat(result.placed().subList(0, 3)).allMatch(Spread.Placed::late);
        assertThat(perDay(result).values()).allMatch(count -> count <= 2);
    }

    @Test
    void whatIsPlannedAlreadyTakesItsRoom() {
        var result = spread(MONDAY, MONDAY.plusDays(1), 3, Map.of(MONDAY, 3)).place(due(4, MONDAY.plusDays(1)));

        assertThat(perDay(result)).isEqualTo(Map.of(MONDAY.plusDays(1), 3));
        assertThat(result.left()).hasSize(1);
    }

    @Test
    void withoutAnOpenDayNothingIsPlaced() {
        var saturday = MONDAY.plusDays(5);
        var result = spread(saturday, saturday.plusDays(1), 3, Map.of()).place(due(2, saturday));

        assertThat(result.placed()).isEmpty();
        assertThat(result.left()).hasSize(2);
        assertThat(spread(MONDAY, MONDAY, 3, Map.of()).place(List.of()).placed())
                .isEmpty();
    }

    /** The lowest highest day that meets all due dates, found by trying each height with the earliest due first. */
    @Test
    void noOtherPlanHasALowerHighestDayAndNoneIsLateWhereNoneHasToBe() {
        var random = new Random(20261125);
        for (int round = 0; round < 2000; round++) {
            var to = MONDAY.plusDays(random.nextInt(40));
            var most = 1 + random.nextInt(6);
            var days = MONDAY.datesUntil(to.plusDays(1)).filter(WEEKDAYS).toList();
            var all = IntStream.range(0, random.nextInt(60))
                    .mapToObj(i -> new Spread.Due<>(
                            i,
                            MONDAY.plusDays(
                                    random.nextInt(1 + (int) MONDAY.until(to).getDays()))))
                    .toList();
            var result = spread(MONDAY, to, most, Map.of()).place(all);

            assertThat(result.placed().size() + result.left().size()).isEqualTo(all.size());
            assertThat(result.placed().stream().map(Spread.Placed::what)).doesNotHaveDuplicates();
            var load = perDay(result);
            assertThat(load.keySet()).allMatch(WEEKDAYS);
            assertThat(load.values()).allMatch(count -> count <= most);
            if (result.placed().size() < all.size()) {
                assertThat(result.placed()).as("no day is left free").hasSize(most * days.size());
            }
            var lowest = IntStream.rangeClosed(1, most)
                    .filter(height -> nobodyIsLate(all, days, height))
                    .findFirst();
            if (lowest.isPresent()) {
                assertThat(result.placed()).hasSize(all.size()).noneMatch(Spread.Placed::late);
                assertThat(load.values()).allMatch(count -> count <= lowest.getAsInt());
            }
        }
    }

    private static boolean nobodyIsLate(List<Spread.Due<Integer>> all, List<LocalDate> days, int height) {
        var order = all.stream().sorted(Comparator.comparing(Spread.Due::on)).toList();
        for (int i = 0; i < order.size(); i++) {
            if (i / height >= days.size()
                    || days.get(i / height).isAfter(order.get(i).on())) {
                return false;
            }
        }
        return true;
    }

    private static Spread<Integer> spread(LocalDate from, LocalDate to, int most, Map<LocalDate, Integer> taken) {
        return new Spread<>(from, to, WEEKDAYS, most, taken);
    }

    private static List<Spread.Due<Integer>> due(int count, LocalDate on) {
        return IntStream.range(0, count)
                .mapToObj(i -> new Spread.Due<>(on.getDayOfYear() * 1000 + i, on))
                .toList();
    }

    private static Map<LocalDate, Integer> perDay(Spread.Result<Integer> result) {
        var load = new HashMap<LocalDate, Integer>();
        result.placed().forEach(each -> load.merge(each.on(), 1, Integer::sum));
        return load;
    }
}
