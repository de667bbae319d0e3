package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonInclude;
import org.jspecify.annotations.Nullable;

/**
 * The answer to one question. For the road it carries a grade: yes for none and minor, no for major and dangerous;
 * where it is unclear the grade is the one that is certain and {@code couldBe} the worst that is possible.
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record Answer(
        Result result, @Nullable Grade grade, @Nullable Grade couldBe) {
    static Answer of(Result result) {
        return new Answer(result, null, null);
    }

    /** Doubt counts only where it makes the certain grade worse, and between none and minor it changes nothing on the road. */
    static Answer ofGrade(Grade certain, Grade possible) {
        if (possible.compareTo(certain) > 0 && !possible.mayBeDriven()) {
            return new Answer(Result.UNCLEAR, certain, possible);
        }
        var grade = certain.orWorse(possible);
        return new Answer(grade.mayBeDriven() ? Result.YES : Result.NO, grade, null);
    }

    /** The grade to reckon with: the worst that is possible. */
    Grade worstPossible() {
        if (couldBe != null) {
            return couldBe;
        }
        return grade == null ? Grade.NONE : grade;
    }
}
