package org.quarterlight.web;

import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** An organisation the person may act for, with what waits there ("7 to do"); present is the one acted for now. */
public record Membership(
        UUID organisation,
        String name,
        int pattern,
        String roleWords,
        @Nullable String waiting,
        boolean present) {}
