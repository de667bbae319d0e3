package org.quarterlight.rulebook.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import java.math.BigDecimal;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.SheetReference;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.InvalidText;
import org.quarterlight.kernel.Money;
import org.quarterlight.kernel.Stale;
import org.quarterlight.rulebook.ChooseRules;
import org.quarterlight.rulebook.HomeCountries;
import org.quarterlight.rulebook.OwnSheet;
import org.quarterlight.rulebook.OwnSheets;
import org.quarterlight.rulebook.PublishSheet;
import org.quarterlight.rulebook.Readings;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.rulebook.SaveCostRates;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.Choice;
import org.quarterlight.web.Notice;
import org.quarterlight.web.ShownOn;
import org.quarterlight.web.Today;
import org.quarterlight.web.Words;
import org.springframework.http.HttpStatus;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The sheets with every limit and its source, readable at an inspection, and the choice among them. */
@Controller
class RulebookPages {
    private static final Map<String, String> LABELS = Map.of(
            "leaveAlonePitMm",
            "Leave a pit alone up to",
            "riskForSafetyPercent",
            "Risk on the road",
            "riskForRepairPercent",
            "Risk in a repair");
    private static final List<Choice> RISKS = List.of(
            new Choice("riskForSafetyPercent", "On the road", "whether it may be driven", null),
            new Choice("riskForRepairPercent", "In a repair", "whether it may be repaired", null));

    private static final int MOST_DAYS = 3650;

    private final Rulebook rulebook;
    private final OwnSheets own;
    private final Readings readings;
    private final HomeCountries countries;
    private final Today today;
    private final Clock clock;

    RulebookPages(
            Rulebook rulebook, OwnSheets own, Readings readings, HomeCountries countries, Today today, Clock clock) {
        this.countries = countries;
        this.readings = readings;
        this.clock = clock;
        this.rulebook = rulebook;
        this.own = own;
        this.today = today;
    }

    /** A sheet in a list. */
    public record Offered(Sheet sheet, String place, String vehicles, String from, String status) {}

    /** The sheets that answer one question, country by country. */
    public record Answering(String question, List<Offered> sheets) {}

    /** A shipped sheet with all that it says. */
    public record Whole(
            Sheet sheet,
            String asked,
            String place,
            String vehicles,
            String from,
            List<SheetWords.Limit> limits,
            List<SheetWords.Drawn> zones) {
        static Whole of(Sheet sheet) {
            var words = new SheetWords(sheet);
            return new Whole(
                    sheet,
                    SheetWords.asked(sheet.question()),
                    SheetWords.place(sheet),
                    SheetWords.vehicles(sheet.vehicles()),
                    SheetWords.day(sheet.validFrom()),
                    words.limits(),
                    words.zones());
        }
    }

    /** A version of one of the organisation's own. */
    public record Mine(OwnSheet sheet, String asked, String state) {}

    private static String major(@Nullable Money money) {
        return money == null ? "" : money.amount();
    }

    private static List<Answering> byQuestion(List<Sheet> sheets) {
        return Stream.of(Question.ROADWORTHY, Question.REPAIRABLE, Question.ACCEPTABLE)
                .map(question -> new Answering(
                        SheetWords.asked(question),
                        sheets.stream()
                                .filter(sheet -> sheet.question() == question)
                                .map(sheet -> new Offered(
                                        sheet,
                                        SheetWords.place(sheet),
                                        SheetWords.vehicles(sheet.vehicles()),
                                        SheetWords.day(sheet.validFrom()),
                                        SheetWords.status(sheet.weakestStatus())))
                                .sorted(Comparator.comparing(
                                        offered -> offered.sheet().country() == null ? "" : offered.place()))
                                .toList()))
                .filter(answering -> !answering.sheets().isEmpty())
                .toList();
    }

    /** The fields of the choice; the sheets stand in fields named after their category. */
    static class RulesForm {
        int version;

        @DecimalMin(value = "0", message = "0 mm or more")
        @DecimalMax(value = "20", message = "At most 20 mm")
        @Nullable
        BigDecimal leaveAlonePitMm;

        boolean replaceWhatCannotBeRepaired;

        /** None where none is ticked; null where the form did not ask. */
        @Nullable
        Set<VehicleCategory> majorStandsDownFor;

        @DecimalMin(value = "0", message = "0 % or more")
        @DecimalMax(value = "40", message = "At most 40 %")
        @Nullable
        BigDecimal riskForSafetyPercent;

        @DecimalMin(value = "0", message = "0 % or more")
        @DecimalMax(value = "40", message = "At most 40 %")
        @Nullable
        BigDecimal riskForRepairPercent;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    @GetMapping("/rule-sheets")
    String list(@ModelAttribute("form") RulesForm form, Model model) {
        var chosen = rulebook.chosen();
        form.version = chosen.version();
        form.leaveAlonePitMm = BigDecimal.valueOf(chosen.choices().leaveAlonePitMm());
        form.replaceWhatCannotBeRepaired = chosen.choices().replaceWhatCannotBeRepaired();
        form.riskForSafetyPercent = percent(chosen.choices().acceptedRiskForSafety());
        form.riskForRepairPercent = percent(chosen.choices().acceptedRiskForRepair());
        form.majorStandsDownFor = chosen.choices().majorStandsDownFor();
        show(chosen.sheets(), Map.of(), model);
        model.addAttribute("days", days(chosen.choices().daysByOutcome()));
        return "rulebook/list";
    }

    /** How long an outcome may wait, as it is typed. */
    public record Days(
            String field,
            String outcome,
            String days,
            @Nullable String problem) {}

    private static List<Days> days(Map<Outcome, Integer> days) {
        return Stream.of(Outcome.values())
                .map(outcome -> new Days(
                        "days-" + outcome,
                        SheetWords.capital(Words.spoken(outcome)),
                        Objects.toString(days.get(outcome), ""),
                        null))
                .toList();
    }

    private static List<Days> shownDays(MultiValueMap<String, String> typed, Map<String, String> problems) {
        return Stream.of(Outcome.values())
                .map(outcome -> new Days(
                        "days-" + outcome,
                        SheetWords.capital(Words.spoken(outcome)),
                        typed(typed, "days-" + outcome),
                        problems.get("days-" + outcome)))
                .toList();
    }

    /** What was typed, with a problem for what is no number of days. What was not asked stays. */
    private static Map<Outcome, Integer> days(MultiValueMap<String, String> fields, HashMap<String, String> problems) {
        var days = new EnumMap<Outcome, Integer>(Outcome.class);
        for (var outcome : Outcome.values()) {
            var field = "days-" + outcome;
            if (fields.containsKey(field)) {
                var typed = typed(fields, field);
                if (typed.matches("\\d{1,4}") && Integer.parseInt(typed) <= MOST_DAYS) {
                    days.put(outcome, Integer.parseInt(typed));
                } else {
                    problems.put(field, "A whole number of days, " + MOST_DAYS + " at most");
                }
            }
        }
        return days;
    }

    /** For everybody who is signed in: at an inspection it is shown to a stranger, and printed for one. */
    @GetMapping("/rule-sheets/limits")
    String limits(Model model) {
        model.addAttribute("sheets", Sheets.shipped().stream().map(Whole::of).toList());
        model.addAttribute("today", SheetWords.day(today.here()));
        return "rulebook/limits";
    }

    @GetMapping("/rule-sheets/{id}")
    String sheet(@PathVariable String id, @RequestParam(required = false) @Nullable Integer version, Model model) {
        var newest = rulebook.sheet(id);
        var sheet = version == null ? newest : rulebook.sheet(new SheetReference(id, newest.name(), version));
        model.addAttribute("past", sheet.version() < newest.version() ? newest : null);
        model.addAttribute(
                "shippedVersions",
                Sheets.versions(id).stream()
                        .map(Sheet::version)
                        .filter(each -> each != sheet.version())
                        .toList());
        var words = new SheetWords(sheet);
        model.addAttribute("sheet", sheet);
        model.addAttribute("others", others(sheet));
        model.addAttribute("asked", SheetWords.asked(sheet.question()));
        model.addAttribute("place", SheetWords.place(sheet));
        model.addAttribute("vehicles", SheetWords.vehicles(sheet.vehicles()));
        model.addAttribute("from", SheetWords.day(sheet.validFrom()));
        model.addAttribute("limits", words.limits());
        model.addAttribute("zones", words.zones());
        var glass = GenericGlass.of(SheetDrawing.category(sheet));
        model.addAttribute("drawing", SheetDrawing.svg(sheet, glass, SheetDrawing.side(sheet)));
        model.addAttribute("glass", glass.title());
        if (Sheets.shipped().stream().noneMatch(each -> each.id().equals(id))) {
            var versions = own.versions(id);
            model.addAttribute("versions", versions);
            model.addAttribute(
                    "wrong", versions.stream().filter(OwnSheet::needsCorrection).toList());
            model.addAttribute("draft", versions.getFirst().draft() ? versions.getFirst() : null);
            model.addAttribute("today", today.here());
        }
        return "rulebook/show";
    }

    @PostMapping("/rule-sheets/{id}/publish")
    String publish(
            @PathVariable String id,
            @RequestParam(defaultValue = "") String validFrom,
            @RequestParam int version,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        try {
            var day = day(validFrom);
            var sheet = own.publish(id, new PublishSheet(day), version);
            after.addFlashAttribute(
                    "notice",
                    Notice.done("Version " + sheet.number() + " is published and judges from " + SheetWords.day(day)
                            + ". Where it is not chosen yet, choose it under Rules."));
            return "redirect:/rule-sheets/" + id;
        } catch (Invalid e) {
            return unpublished(id, validFrom, e.problem(), model, response);
        } catch (InvalidText e) {
            return unpublished(id, validFrom, "The draft needs correction first", model, response);
        }
    }

    private static List<Sheet> others(Sheet sheet) {
        return Sheets.shipped().stream()
                .filter(other -> sheet.otherReadings().contains(other.id()) && other.disagreement() != null)
                .toList();
    }

    private String unpublished(String id, String validFrom, String problem, Model model, HttpServletResponse response) {
        response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        model.addAttribute("publishFrom", validFrom);
        model.addAttribute("publishProblem", problem);
        return sheet(id, null, model);
    }

    private static LocalDate day(String typed) {
        try {
            return LocalDate.parse(typed.strip());
        } catch (DateTimeParseException e) {
            throw new Invalid("validFrom", "Say from which day");
        }
    }

    @PostMapping("/rule-sheets/cost-rates")
    @ShownOn("/rule-sheets")
    String reckonWith(@RequestParam MultiValueMap<String, String> fields, RedirectAttributes after) {
        if (!Acting.require().is(Role.MANAGER)) {
            throw new AccessDeniedException("only a manager says what it costs");
        }
        var currency = Money.currency("currency", typed(fields, "currency").toUpperCase(Locale.ROOT));
        var repair = Money.typed("repair", typed(fields, "repair"), currency);
        var replacement = Money.typed("replacement", typed(fields, "replacement"), currency);
        var version = typed(fields, "version");
        rulebook.reckonWith(
                new SaveCostRates(repair.amountMinor(), replacement.amountMinor(), repair.currency()),
                version.matches("\\d{1,9}") ? Integer.parseInt(version) : 0);
        after.addFlashAttribute("notice", Notice.done("Kept. Previews reckon with it."));
        return "redirect:/rule-sheets";
    }

    private static String typed(MultiValueMap<String, String> fields, String field) {
        return Objects.requireNonNullElse(fields.getFirst(field), "").strip();
    }

    @PostMapping("/rule-sheets/chosen")
    String choose(
            @RequestParam MultiValueMap<String, String> fields,
            @Valid @ModelAttribute("form") RulesForm form,
            BindingResult errors,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        if (!Acting.require().is(Role.MANAGER)) {
            throw new AccessDeniedException("only a manager chooses");
        }
        Map<VehicleCategory, List<String>> sheets = new EnumMap<>(VehicleCategory.class);
        for (var category : VehicleCategory.values()) {
            sheets.put(category, fields.getOrDefault("sheets-" + category, List.of()));
        }
        var problems = new HashMap<String, String>();
        var days = days(fields, problems);
        for (var outcome : Outcome.values()) {
            var problem = problems.get("days-" + outcome);
            if (problem != null) {
                errors.reject("days", SheetWords.capital(Words.spoken(outcome)) + ": " + problem);
            }
        }
        if (!errors.hasErrors()) {
            try {
                rulebook.choose(
                        new ChooseRules(
                                sheets,
                                share(form.riskForSafetyPercent),
                                share(form.riskForRepairPercent),
                                form.leaveAlonePitMm,
                                form.replaceWhatCannotBeRepaired,
                                form.majorStandsDownFor,
                                days),
                        form.version);
                after.addFlashAttribute("notice", Notice.done("Kept. Every open damage is judged again."));
                return "redirect:/rule-sheets";
            } catch (Invalid e) {
                problems.put(e.field(), e.problem());
                errors.reject("invalid", e.problem());
            } catch (Stale e) {
                errors.reject(
                        "stale",
                        "Somebody else has chosen meanwhile. Yours stands below: keep it once more to put it in place");
                form.version = rulebook.version();
                response.setStatus(HttpStatus.CONFLICT.value());
                show(sheets, problems, model);
                model.addAttribute("days", shownDays(fields, problems));
                return "rulebook/list";
            }
        }
        response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        show(sheets, problems, model);
        model.addAttribute("days", shownDays(fields, problems));
        return "rulebook/list";
    }

    private static BigDecimal percent(double share) {
        return BigDecimal.valueOf(share).movePointRight(2).stripTrailingZeros();
    }

    private static @Nullable BigDecimal share(@Nullable BigDecimal percent) {
        return percent == null ? null : percent.movePointLeft(2);
    }

    private static String state(OwnSheet sheet, Instant now) {
        var words = sheet.validFrom() == null
                ? "draft"
                : (sheet.applies(now) ? "judges since " : "judges from ") + SheetWords.day(sheet.validFrom());
        return sheet.needsCorrection() ? words + ", needs correction" : words;
    }

    private void show(Map<VehicleCategory, List<String>> chosen, Map<String, String> problems, Model model) {
        var choice = new SheetChoice(rulebook.sheets(), countries.homeCountries());
        var categories = Arrays.stream(VehicleCategory.values())
                .map(category -> choice.of(
                        category, chosen.getOrDefault(category, List.of()), problems.get("sheets." + category)))
                .toList();
        model.addAttribute("conflicts", readings.here());
        model.addAttribute("questions", byQuestion(Sheets.shipped()));
        var now = clock.instant();
        model.addAttribute(
                "own",
                own.all().stream()
                        .map(each ->
                                new Mine(each, SheetWords.asked(each.sheet().question()), state(each, now)))
                        .toList());
        if (Acting.require().is(Role.MANAGER)) {
            var rates = rulebook.costRates();
            model.addAttribute("rates", rates);
            model.addAttribute("repairCost", major(rates.repair()));
            model.addAttribute("replacementCost", major(rates.replacement()));
        }
        model.addAttribute("categories", categories);
        model.addAttribute(
                "categoryChoices",
                Stream.of(VehicleCategory.values())
                        .map(each -> Choice.of(each.name(), SheetChoice.words(each)))
                        .toList());
        model.addAttribute("labels", LABELS);
        model.addAttribute("risks", RISKS);
    }
}
