package org.quarterlight.eligibility;

import java.util.List;
import java.util.stream.Collectors;

/** A text that is no rule sheet, with everything that is wrong with it. */
public final class BrokenSheet extends RuntimeException {
    private final transient List<Problem> problems;

    BrokenSheet(String sheet, List<Problem> problems) {
        super(sheet + ": "
                + problems.stream()
                        .map(problem -> "line " + problem.line() + ", " + problem.field() + ": " + problem.message())
                        .collect(Collectors.joining("; ")));
        this.problems = List.copyOf(problems);
    }

    public List<Problem> problems() {
        return problems;
    }

    /** One thing that is wrong: the line, counted from 1, the field as {@code rules[2].limitMm}, and what is wrong there. */
    public record Problem(int line, String field, String message) {}
}
