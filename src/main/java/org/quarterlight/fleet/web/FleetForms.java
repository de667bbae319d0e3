package org.quarterlight.fleet.web;

import jakarta.validation.ConstraintViolationException;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.NotReadablePropertyException;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.WebDataBinder;

/** What the forms of this module have in common. */
final class FleetForms {
    private FleetForms() {}

    /** Reads straight into fields. */
    static void prepare(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    /** Puts what the domain said beside the field it speaks of, or above the form where it has no such field. */
    static void reject(Invalid problem, BindingResult errors) {
        reject(problem.field(), problem.problem(), errors);
    }

    /** The same for a command that breaks its own rules. */
    static void reject(ConstraintViolationException problem, BindingResult errors) {
        for (var violation : problem.getConstraintViolations()) {
            var path = violation.getPropertyPath().toString();
            reject(path.substring(path.indexOf('.', path.indexOf('.') + 1) + 1), violation.getMessage(), errors);
        }
    }

    private static void reject(String field, String message, BindingResult errors) {
        try {
            errors.rejectValue(field, "invalid", message);
        } catch (NotReadablePropertyException e) {
            errors.reject("invalid", message);
        }
    }

    /** A form is shown only to those who may send it; the service asks again. */
    static void forManager() {
        if (!Acting.require().is(Role.MANAGER)) {
            throw new AccessDeniedException("only the fleet's managers change this");
        }
    }

    static @Nullable String blankToNull(@Nullable String typed) {
        return typed == null || typed.isBlank() ? null : typed.trim();
    }
}
