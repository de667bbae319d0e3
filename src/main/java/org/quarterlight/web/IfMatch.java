package org.quarterlight.web;

/**
 * The version that a change was made from, out of the request's {@code If-Match}. A handler that names it as a parameter
 * answers 428 where the header is missing, unless the parameter may be null.
 */
public record IfMatch(int version) {}
