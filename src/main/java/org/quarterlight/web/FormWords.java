package org.quarterlight.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.PropertyAccessException;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.validation.DefaultBindingErrorProcessor;
import org.springframework.validation.FieldError;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;

/** Says beside its field, in plain words, what cannot be read as what the field is for. */
@ControllerAdvice(annotations = Controller.class)
class FormWords {
    @InitBinder
    void prepare(WebDataBinder binder) {
        binder.setBindingErrorProcessor(new DefaultBindingErrorProcessor() {
            @Override
            public void processPropertyAccessException(PropertyAccessException failure, BindingResult errors) {
                var field = failure.getPropertyName();
                if (field == null) {
                    super.processPropertyAccessException(failure, errors);
                    return;
                }
                errors.addError(new FieldError(
                        errors.getObjectName(),
                        field,
                        shown(failure.getValue()),
                        true,
                        null,
                        null,
                        expected(errors.getFieldType(field))));
            }
        });
    }

    /** What was typed stays, but for what no database keeps. */
    private static @Nullable Object shown(@Nullable Object typed) {
        return typed instanceof String text ? text.replace("\0", "") : typed;
    }

    static String expected(@Nullable Class<?> type) {
        if (type == String.class) {
            return "Holds a character that is none";
        }
        if (type == Integer.class || type == BigDecimal.class || type == Double.class) {
            return "Give a number";
        }
        return type == LocalDate.class ? "Give a date such as 2024-04-30" : "Choose one of those offered";
    }
}
