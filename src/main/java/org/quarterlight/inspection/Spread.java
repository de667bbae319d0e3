package org.quarterlight.inspection;

import java.time.LocalDate;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;

/**
 * Spreads work that is due by some day over the days on which it can be done: as evenly as the due dates allow, never
 * more than so many on a day, late only where there is no room before. Pure.
 *
 * <p>Of the curves of work done that never run below the work due, the one with the lowest highest day is the least
 * concave line above it; it is followed as closely as whole vehicles and full days let it.
 */
final class Spread<T> {
    private final List<LocalDate> days;
    private final int mostPerDay;
    private final Map<LocalDate, Integer> taken;

    /**
     * @param taken how many are planned on a day already
     */
    Spread(LocalDate from, LocalDate to, Predicate<LocalDate> open, int mostPerDay, Map<LocalDate, Integer> taken) {
        this.days = from.datesUntil(to.plusDays(1)).filter(open).toList();
        this.mostPerDay = mostPerDay;
        this.taken = taken;
    }

    /** Something to be done by a day. */
    record Due<T>(T what, LocalDate on) {}

    /** On which day it is to be done; {@code late} where that is after the day it is due. */
    record Placed<T>(T what, LocalDate on, boolean late) {}

    /** What is placed, day by day, and what there is no room for. */
    record Result<T>(List<Placed<T>> placed, List<T> left) {}

    Result<T> place(List<Due<T>> all) {
        var order = all.stream().sorted(Comparator.comparing(Due::on)).toList();
        var goal = goal(order);
        var placed = new ArrayList<Placed<T>>();
        for (int day = 0; day < days.size(); day++) {
            var date = days.get(day);
            var room = Math.max(0, mostPerDay - taken.getOrDefault(date, 0));
            for (int i = 0; i < room && placed.size() < goal[day]; i++) {
                var due = order.get(placed.size());
                placed.add(new Placed<>(due.what(), date, date.isAfter(due.on())));
            }
        }
        return new Result<>(
                List.copyOf(placed),
                order.stream().skip(placed.size()).map(Due::what).toList());
    }

    /** How many are to be done by the end of each day. */
    private int[] goal(List<Due<T>> order) {
        record Corner(int day, long done) {}
        var line = new ArrayDeque<Corner>();
        line.add(new Corner(0, 0));
        var due = 0;
        for (int day = 1; day <= days.size(); day++) {
            // What falls due before the next open day is to be done by the end of this one.
            while (due < order.size()
                    && (day == days.size() || order.get(due).on().isBefore(days.get(day)))) {
                due++;
            }
            var corner = new Corner(day, due);
            while (line.size() > 1) {
                var last = line.removeLast();
                var before = line.getLast();
                var bendsDown = (last.done() - before.done()) * (corner.day() - last.day())
                        > (corner.done() - last.done()) * (last.day() - before.day());
                if (bendsDown) {
                    line.add(last);
                    break;
                }
            }
            line.add(corner);
        }
        var goal = new int[days.size()];
        var from = line.removeFirst();
        for (var to : line) {
            for (int day = from.day() + 1; day <= to.day(); day++) {
                var part = (to.done() - from.done()) * (day - from.day());
                goal[day - 1] = Math.toIntExact(from.done() + Math.ceilDiv(part, to.day() - from.day()));
            }
            from = to;
        }
        return goal;
    }
}
