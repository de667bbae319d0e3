package org.quarterlight.web;

import org.jspecify.annotations.Nullable;

/** A job in the menu. It carries a count only where that many things call for work. */
public record MenuItem(String label, String href, @Nullable Integer count, boolean current) {}
