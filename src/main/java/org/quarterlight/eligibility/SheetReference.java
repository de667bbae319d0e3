package org.quarterlight.eligibility;

/** A sheet as a verdict remembers it. The id is the shipped sheet's slug, or that of an organisation's own. */
public record SheetReference(String id, String name, int version) {}
