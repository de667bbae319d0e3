package org.quarterlight.fleet.web;

import jakarta.validation.ConstraintViolationException;
import java.math.BigDecimal;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.NotReadablePropertyException;
import org.springframework.beans.PropertyAccessException;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.validation.BindingResult;
import org.springframework.validation.DefaultBindingErrorProcessor;
import org.springframework.web.bind.WebDataBinder;

/** What the forms of this module have in common. */
final class FleetForms {
    private FleetForms() {}

    /** Reads straight into fields, and says in plain words what cannot be read. */
    static void prepare(WebDataBinder binder) {
        binder.initDirectFieldAccess();
        binder.setBindingErrorProcessor(new DefaultBindingErrorProcessor() {
            @Override
            public void processPropertyAccessException(PropertyAccessException failure, BindingResult errors) {
                var field = failure.getPropertyName();
                if (field == null) {
                    super.processPropertyAccessException(failure, errors);
                    return;
                }
                errors.addError(new org.springframework.validation.FieldError(
                        errors.getObjectName(),
                        field,
                        failure.getValue(),
                        true,
                        null,
                        null,
                        expected(errors.getFieldType(field))));
            }
        });
    }

    private static String expected(@Nullable Class<?> type) {
        if (type == Integer.class || type == BigDecimal.class || type == Double.class) {
            return "Give a number";
        }
        return type == LocalDate.class ? "Give a date such as 2024-04-30" : "Choose one of those offered";
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
