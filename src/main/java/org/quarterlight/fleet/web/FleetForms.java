package org.quarterlight.fleet.web;

import jakarta.validation.ConstraintViolationException;
import java.util.function.Supplier;
import java.util.function.UnaryOperator;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
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

    /** As {@link #attempt(BindingResult, UnaryOperator, Supplier)}, of a form that calls its fields as its command does. */
    static @Nullable String attempt(BindingResult errors, Supplier<String> work) {
        return attempt(errors, UnaryOperator.identity(), work);
    }

    /**
     * Does what a form asks for and answers the view that follows; null where something is wrong with it, which then stands
     * beside its fields.
     *
     * @param named a mistake by the name that the form has for its field
     */
    static @Nullable String attempt(BindingResult errors, UnaryOperator<Invalid> named, Supplier<String> work) {
        if (!errors.hasErrors()) {
            try {
                return work.get();
            } catch (Invalid e) {
                FormErrors.reject(named.apply(e), errors);
            } catch (ConstraintViolationException e) {
                reject(e, errors);
            }
        }
        return null;
    }

    /** Puts what is wrong with a command beside the fields it speaks of. */
    private static void reject(ConstraintViolationException problem, BindingResult errors) {
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
