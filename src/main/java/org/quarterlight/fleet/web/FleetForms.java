package org.quarterlight.fleet.web;

import jakarta.validation.ConstraintViolationException;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.FormErrors;
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

    /** Puts what is wrong with a command beside the fields it speaks of. */
    static void reject(ConstraintViolationException problem, BindingResult errors) {
        for (var violation : problem.getConstraintViolations()) {
            var path = violation.getPropertyPath().toString();
            FormErrors.reject(
                    path.substring(path.indexOf('.', path.indexOf('.') + 1) + 1), violation.getMessage(), errors);
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
