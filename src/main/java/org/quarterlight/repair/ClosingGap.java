package org.quarterlight.repair;

/**
 * One thing that keeps a job from being closed.
 *
 * @param link the part of the page where it is mended, by a form that is there in the job's present state
 * @param overridable a dispatcher or manager of the performer may answer for it with a reason
 */
public record ClosingGap(Gap gap, String sentence, String link, boolean overridable) {
    static ClosingGap of(Job job, boolean running, Gap gap, String sentence) {
        return new ClosingGap(
                gap, sentence, "/jobs/" + job.id() + "/run#" + part(job, running, gap), gap.overridable());
    }

    /** Work that has passed goes on first; a clock that runs is stopped first. */
    private static String part(Job job, boolean running, Gap gap) {
        return switch (gap.part()) {
            case "phases", "clock", "look-over" ->
                job.state() == JobState.INSPECTED ? "again" : running ? "clock" : gap.part();
            case "conditions" -> job.state() == JobState.INSPECTED ? "again" : gap.part();
            case "close" -> job.state() == JobState.INSPECTED ? "close" : running ? "clock" : "look-over";
            default -> gap.part();
        };
    }
}
