package org.quarterlight.eligibility;

import java.util.List;
import java.util.UUID;

/** What a verdict was made from, so that it can be made again. */
public record JudgedFrom(UUID observation, PatternReference pattern, List<SheetReference> sheets) {
    public JudgedFrom {
        sheets = List.copyOf(sheets);
    }
}
