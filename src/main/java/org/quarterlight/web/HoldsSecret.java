package org.quarterlight.web;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/** The answer of this handler holds a secret: it is never kept for a repeated request. */
@Target(ElementType.METHOD)
@Retention(RetentionPolicy.RUNTIME)
public @interface HoldsSecret {}
