package org.quarterlight.dispatch.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.quarterlight.dispatch.DayView;
import org.quarterlight.dispatch.StopView;
import org.quarterlight.dispatch.VanView;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.Work;

/** Places by arithmetic: from 7 to 17 an axis of 864 px has 86.4 px an hour, 1.44 px a minute. */
class BoardDrawingTests {
    private static final ZoneId LONDON = ZoneId.of("Europe/London");
    private static final LocalDate DAY = LocalDate.of(2026, 11, 27);

    @Test
    void hoursStandWhereTheyAreOnTheAxis() {
        var board = draw("06:00", null, day("08:00", "16:00", null));

        assertThat(board.hours())
                .extracting(BoardDrawing.Hour::words)
                .startsWith("7:00", "8:00")
                .endsWith("17:00");
        assertPx(board.hours().get(1).x(), 86.4);
        assertPx(board.hours().getLast().x(), 864);
        assertPx(board.rows().getFirst().shift().x(), 86.4);
        assertPx(board.rows().getFirst().shift().end(), 777.6);
        assertThat(board.now()).as("not on this part of the day").isNull();
        assertThat(board.rows().getFirst().words()).isEqualTo("Van 1, shift 08:00 to 16:00: nothing on this day");
    }

    @Test
    void workTravelWaitAndCureLieWhereTheirTimesAre() {
        var row = only(draw("07:00", null, day("08:00", "16:00", "11:00", stop("09:00", "09:45"))));

        var work = row.blocks().getFirst();
        assertPx(work.span().x(), 172.8);
        assertPx(work.span().width(), 64.8);
        assertThat(work.label()).isEqualTo("KTB");
        assertThat(work.state()).isEqualTo("ahead");
        // Out at 8:00, there at 8:30, home from 9:45 to 11:00.
        assertPx(row.travel().getFirst().x(), 86.4);
        assertPx(row.travel().getFirst().end(), 129.6);
        assertPx(row.waits().getFirst().x(), 129.6);
        assertPx(row.waits().getFirst().end(), 172.8);
        assertPx(row.travel().getLast().x(), 237.6);
        assertPx(row.travel().getLast().end(), 345.6);
        // 9:30 to 9:40.
        assertPx(row.cures().getFirst().x(), 216);
        assertPx(row.cures().getFirst().width(), 14.4);
    }

    @Test
    void nowStandsOnTheAxisAndTheDonePartReachesIt() {
        var stop = stop("09:00", "10:00").in(JobState.UNDER_WAY);
        var board = draw("09:15", null, day("08:00", "16:00", "11:00", stop));

        assertPx(board.now() == null ? 0 : board.now().x(), 194.4);
        assertThat(board.now() == null ? "" : board.now().words()).isEqualTo("09:15");
        assertThat(board.hours().get(2).words()).as("below the tag of now").isNull();
        assertThat(only(board).blocks().getFirst().donePart()).isEqualTo(25);
        assertThat(only(board).blocks().getFirst().state()).isEqualTo("under-way");
    }

    @Test
    void theAxisGrowsByWholeHoursAndEndsAtMidnight() {
        var early = draw("04:00", null, day("05:30", "14:00", "18:20", stop("06:10", "06:55")));
        assertThat(early.hours())
                .extracting(BoardDrawing.Hour::words)
                .startsWith("5:00")
                .endsWith("19:00");

        var long1 = stop("22:00", "23:30");
        var night = day("08:00", "16:00", null, long1).back(DAY.plusDays(1), "00:40");
        var board = draw("04:00", null, night);
        assertThat(board.hours()).hasSize(18);
        assertThat(board.hours().getLast().words()).as("no room beside 23:00").isNull();
        assertPx(only(board).travel().getLast().end(), 864);
        // 17 hours from 7 to midnight.
        assertPx(only(board).blocks().getFirst().span().x(), 864 * 15 / 17.0);
        assertThat(board.hours().get(1).minor()).isTrue();
    }

    @Test
    void aVanElsewhereStandsOnTheClockOfTheBoard() {
        var berlin = day("08:00", "16:00", null).in(ZoneId.of("Europe/Berlin"));

        assertPx(only(draw("05:00", null, berlin)).shift().x(), 0);
    }

    @Test
    void lateIsAPennantWhereTheStopEnds() {
        var row = only(draw(
                "07:00",
                null,
                day("08:00", "16:00", "11:00", stop("09:00", "09:45").late(12))));

        assertThat(row.pennants()).extracting(BoardDrawing.Pennant::words).containsExactly("12 late");
        assertPx(row.pennants().getFirst().x(), 237.6);
        // 7 letters of 6.9 px and 18 px around them.
        assertThat(row.pennants().getFirst().path()).isEqualTo("M0 -6V22M0 0H66.3l-6 11 6 11H0");
        assertThat(row.words()).endsWith("to come, 12 late");
    }

    @Test
    void aPennantAtTheEndOfTheAxisPointsBack() {
        var row = only(draw(
                "07:00",
                null,
                day("08:00", "16:00", null, stop("16:00", "16:45").late(75))));

        assertThat(row.pennants().getFirst().words()).isEqualTo("1 h 15 late");
        assertThat(row.pennants().getFirst().path())
                .startsWith("M0 -6V22M0 0H-")
                .contains("l6 11 -6 11");
    }

    @Test
    void pennantsThatWouldLieUponEachOtherGiveWay() {
        var row = only(draw(
                "07:00",
                null,
                day(
                        "08:00",
                        "16:00",
                        null,
                        stop("09:00", "09:30").late(12),
                        stop("09:35", "10:05").late(13),
                        stop("13:00", "13:30").late(14))));

        assertThat(row.pennants()).extracting(BoardDrawing.Pennant::words).containsExactly("12 late", "14 late");
    }

    @Test
    void whatDoesNotFitItsBlockIsLeftOut() {
        var blocks = only(draw(
                        "07:00",
                        null,
                        day(
                                "08:00",
                                "16:00",
                                null,
                                stop("08:00", "08:15"),
                                stop("09:00", "11:30").of(Work.REPLACEMENT),
                                stop("12:00", "13:00").of(Work.REPLACEMENT))))
                .blocks();

        // 21.6 px, 216 px and 86.4 px.
        assertThat(blocks).extracting(BoardDrawing.Block::label).containsExactly(null, "QV23 KTB replacement", "KTB");
    }

    @Test
    void theChosenStopHasAFrame() {
        var chosen = stop("09:00", "09:45");
        var board = draw("07:00", chosen.job, day("08:00", "16:00", null, chosen));

        var frame = only(board).frame();
        assertPx(frame == null ? 0 : frame.x(), 172.8);
        assertPx(frame == null ? 0 : frame.width(), 64.8);
    }

    @Test
    void theLastGroupOfAPlateNamesIt() {
        assertThat(BoardDrawing.lastGroup("QV23 KTB")).isEqualTo("KTB");
        assertThat(BoardDrawing.lastGroup("XQ-NK 551")).isEqualTo("551");
        assertThat(BoardDrawing.lastGroup("QV73KKJ")).isEqualTo("3KKJ");
        assertThat(BoardDrawing.lastGroup("A1")).isEqualTo("A1");
    }

    private static void assertPx(double percent, double px) {
        assertThat(percent * BoardDrawing.AXIS_PX / 100).isCloseTo(px, within(1.0));
    }

    private static BoardDrawing.Row only(BoardDrawing board) {
        assertThat(board.rows()).hasSize(1);
        return board.rows().getFirst();
    }

    private static BoardDrawing draw(String now, @Nullable UUID selected, Day... days) {
        return BoardDrawing.of(
                DAY, LONDON, List.of(days).stream().map(Day::view).toList(), moment(now), selected);
    }

    private static Instant moment(String time) {
        return DAY.atTime(LocalTime.parse(time)).atZone(LONDON).toInstant();
    }

    private static Day day(String starts, String ends, @Nullable String back, Stop... stops) {
        return new Day(
                LocalTime.parse(starts),
                LocalTime.parse(ends),
                back == null ? null : moment(back),
                LONDON,
                List.of(stops));
    }

    private static Stop stop(String begins, String ends) {
        return new Stop(UUID.randomUUID(), begins, ends, JobState.PLANNED, Work.REPAIR, 0);
    }

    private record Day(
            LocalTime starts, LocalTime ends, @Nullable Instant back, ZoneId zone, List<Stop> stops) {
        Day in(ZoneId other) {
            return new Day(starts, ends, back, other, stops);
        }

        Day back(LocalDate day, String time) {
            var at = day.atTime(LocalTime.parse(time)).atZone(LONDON).toInstant();
            return new Day(starts, ends, at, zone, stops);
        }

        DayView view() {
            var van = new VanView(
                    UUID.randomUUID(), "Van 1", "", BigDecimal.ONE, BigDecimal.ONE, zone, null, null, starts, ends, 0);
            return new DayView(
                    van,
                    DAY,
                    null,
                    null,
                    null,
                    starts,
                    ends,
                    stops.stream().map(Stop::view).toList(),
                    0,
                    0,
                    stops.isEmpty() ? null : moment("08:00"),
                    back,
                    0,
                    0,
                    null,
                    0);
        }
    }

    private record Stop(UUID job, String begins, String ends, JobState state, Work work, int lateMinutes) {
        Stop in(JobState other) {
            return new Stop(job, begins, ends, other, work, lateMinutes);
        }

        Stop of(Work other) {
            return new Stop(job, begins, ends, state, other, lateMinutes);
        }

        Stop late(int minutes) {
            return new Stop(job, begins, ends, state, work, minutes);
        }

        /** Half an hour of waiting before it, and ten minutes of cure until five before its end. */
        StopView view() {
            var from = moment(begins);
            var to = moment(ends);
            return new StopView(
                    job,
                    1,
                    work,
                    state,
                    "QV23 KTB",
                    "Ashmere Vale Buses",
                    "Millbeck Yard",
                    "",
                    "",
                    LONDON,
                    null,
                    null,
                    0,
                    0,
                    moment("08:00"),
                    from.minusSeconds(1800),
                    from,
                    to,
                    from,
                    to,
                    45,
                    List.of(new StopView.CureView(to.minusSeconds(900), to.minusSeconds(300), false)),
                    lateMinutes,
                    null);
        }
    }
}
