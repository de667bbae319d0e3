package org.quarterlight.web;

import org.quarterlight.kernel.Invalid;
import org.springframework.beans.NotReadablePropertyException;
import org.springframework.validation.BindingResult;

/** Puts what the domain said beside the field of a form that it speaks of. */
public final class FormErrors {
    private FormErrors() {}

    /** Above the form where it has no such field. */
    public static void reject(Invalid problem, BindingResult errors) {
        reject(problem.field(), problem.problem(), errors);
    }

    /** The same for a field of a command, named as the form names it. */
    public static void reject(String field, String message, BindingResult errors) {
        try {
            errors.rejectValue(field, "invalid", message);
        } catch (NotReadablePropertyException e) {
            errors.reject("invalid", message);
        }
    }
}
