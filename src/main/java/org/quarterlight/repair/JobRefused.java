package org.quarterlight.repair;

import org.quarterlight.kernel.Refused;

/** The state of the job does not allow this. */
public class JobRefused extends Refused {
    JobRefused(String code, String message) {
        super(code, message);
    }

    static JobRefused inState(String verb, JobState state) {
        return new JobRefused(
                "job-state",
                "A job that is "
                        + state.name().toLowerCase(java.util.Locale.ROOT).replace('_', ' ') + " cannot be " + verb);
    }
}
