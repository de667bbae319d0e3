package org.quarterlight.web;

import java.util.List;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/**
 * One part of a list.
 *
 * @param next the cursor to ask the following part with, null at the end
 */
public record Slice<T>(List<T> items, @Nullable String next) {
    public Slice {
        items = List.copyOf(items);
    }

    public <R> Slice<R> map(Function<? super T, ? extends R> each) {
        return new Slice<>(items.stream().<R>map(each).toList(), next);
    }
}
