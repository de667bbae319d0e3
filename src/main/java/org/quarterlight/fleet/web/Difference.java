package org.quarterlight.fleet.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/** A field that two people wrote differently: what stands there now, and what the second of them typed. */
record Difference(String label, String saved, String typed) {
    /** Gathers those fields of a form that differ. */
    static final class Differences {
        private final List<Difference> all = new ArrayList<>();

        Differences compare(String label, @Nullable Object saved, @Nullable Object typed) {
            var before = Objects.toString(saved, "").trim();
            var after = Objects.toString(typed, "").trim();
            if (!before.equals(after)) {
                all.add(new Difference(label, before, after));
            }
            return this;
        }

        List<Difference> all() {
            return List.copyOf(all);
        }
    }
}
