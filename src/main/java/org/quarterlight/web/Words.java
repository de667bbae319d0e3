package org.quarterlight.web;

import java.util.Locale;

/** The domain's constants as people and programs write them. */
public final class Words {
    private Words() {}

    /** {@code UNDER_WAY} as {@code under-way}. A code such as {@code M3} is no word and stays. */
    public static String of(Enum<?> constant) {
        return of(constant.name());
    }

    static String of(String name) {
        return isCode(name) ? name : name.toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** {@code UNDER_WAY} as {@code under way}. */
    public static String spoken(Enum<?> constant) {
        var word = of(constant);
        return word.equals("half-moon") ? word : word.replace('-', ' ');
    }

    private static boolean isCode(String name) {
        return name.length() == 2 && Character.isDigit(name.charAt(1));
    }

    /** {@code under-way} as {@code UNDER_WAY}; throws {@link IllegalArgumentException} for a word that is not one. */
    public static <T extends Enum<T>> T read(Class<T> type, String word) {
        return Enum.valueOf(type, word.trim().toUpperCase(Locale.ROOT).replace('-', '_'));
    }
}
