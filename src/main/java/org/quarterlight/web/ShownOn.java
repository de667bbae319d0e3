package org.quarterlight.web;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/**
 * The page that a form stands on, as an address with the names of the form's own path. Where the form is refused, that
 * page is shown again with what was typed and the refusal beside its field.
 */
@Target(ElementType.METHOD)
@Retention(RetentionPolicy.RUNTIME)
public @interface ShownOn {
    String value();
}
