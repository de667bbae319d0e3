package org.quarterlight.rulebook.web;

import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.glass.VehicleCategory;

/**
 * The sheets that may be chosen for a category: chosen ones first, then those of the countries where the organisation is,
 * common practice and its own; those of other countries apart, for they are many and seldom wanted.
 */
final class SheetChoice {
    private static final int FAR = 4;

    private final List<Sheet> sheets;
    private final Set<String> countries;
    private final Set<String> starting;

    SheetChoice(List<Sheet> sheets, Set<String> countries) {
        this.sheets = sheets;
        this.countries = countries;
        starting = countries.stream()
                .flatMap(country -> Sheets.startingFor(country, null).stream())
                .map(Sheet::id)
                .collect(Collectors.toSet());
    }

    /** A category in words, what is chosen for it by name, and what may be. */
    public record Category(
            VehicleCategory category,
            String words,
            String summary,
            @Nullable String problem,
            List<Answering> near,
            List<Answering> far,
            int farSheets) {}

    /** The sheets that answer one question. */
    public record Answering(String question, List<Offer> offers) {}

    /** A sheet that may be ticked. */
    public record Offer(String id, String name, String place, boolean chosen) {}

    Category of(VehicleCategory category, Collection<String> chosen, @Nullable String problem) {
        var vehicle = new VehicleFacts(category, null);
        var offered = sheets.stream()
                .filter(sheet -> sheet.appliesTo(vehicle) || chosen.contains(sheet.id()))
                .sorted(Comparator.comparingInt((Sheet sheet) -> rank(sheet, chosen)))
                .toList();
        var named = offered.stream()
                .filter(sheet -> chosen.contains(sheet.id()))
                .map(Sheet::name)
                .toList();
        var far = byQuestion(offered, chosen, sheet -> rank(sheet, chosen) == FAR);
        return new Category(
                category,
                words(category),
                named.isEmpty() ? "the country's own" : String.join(", ", named),
                problem,
                byQuestion(offered, chosen, sheet -> rank(sheet, chosen) < FAR),
                far,
                far.stream().mapToInt(each -> each.offers().size()).sum());
    }

    private int rank(Sheet sheet, Collection<String> chosen) {
        if (chosen.contains(sheet.id())) {
            return 0;
        }
        if (isOwn(sheet)) {
            return 3;
        }
        if (sheet.country() == null) {
            return 2;
        }
        return countries.stream().anyMatch(sheet::isOf) || starting.contains(sheet.id()) ? 1 : FAR;
    }

    private static boolean isOwn(Sheet sheet) {
        try {
            return UUID.fromString(sheet.id()).toString().equals(sheet.id());
        } catch (IllegalArgumentException e) {
            return false;
        }
    }

    private static List<Answering> byQuestion(List<Sheet> sheets, Collection<String> chosen, Predicate<Sheet> wanted) {
        return Stream.of(Question.ROADWORTHY, Question.REPAIRABLE, Question.ACCEPTABLE)
                .map(question -> new Answering(
                        SheetWords.asked(question),
                        sheets.stream()
                                .filter(sheet -> sheet.question() == question && wanted.test(sheet))
                                .map(sheet -> new Offer(
                                        sheet.id(),
                                        sheet.name(),
                                        isOwn(sheet) ? "your own" : SheetWords.place(sheet),
                                        chosen.contains(sheet.id())))
                                .toList()))
                .filter(answering -> !answering.offers().isEmpty())
                .toList();
    }

    static String words(VehicleCategory category) {
        return switch (category) {
            case M1 -> "Cars, up to eight seats beside the driver's (M1)";
            case M2 -> "Buses up to 5 t (M2)";
            case M3 -> "Buses over 5 t (M3)";
            case N1 -> "Vans and trucks up to 3.5 t (N1)";
            case N2 -> "Trucks over 3.5 t, up to 12 t (N2)";
            case N3 -> "Trucks over 12 t (N3)";
        };
    }
}
