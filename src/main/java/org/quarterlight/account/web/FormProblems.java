package org.quarterlight.account.web;

import jakarta.validation.ConstraintViolation;
import jakarta.validation.ConstraintViolationException;
import java.util.Map;
import java.util.stream.Collectors;

/** What a checked command found wrong, in the words of the form it came from. */
final class FormProblems {
    private FormProblems() {}

    /**
     * One sentence for all of it.
     *
     * @param labels the form's words for fields, by the end of their path in the command
     */
    static String of(ConstraintViolationException problems, Map<String, String> labels) {
        return problems.getConstraintViolations().stream()
                .map(violation -> label(violation, labels) + " " + violation.getMessage())
                .sorted()
                .collect(Collectors.joining("; "));
    }

    private static String label(ConstraintViolation<?> violation, Map<String, String> labels) {
        var path = violation.getPropertyPath().toString();
        return labels.entrySet().stream()
                .filter(entry -> path.endsWith("." + entry.getKey()))
                .map(Map.Entry::getValue)
                .findFirst()
                .orElseGet(() -> path.substring(path.lastIndexOf('.') + 1));
    }
}
