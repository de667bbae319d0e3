package org.quarterlight.repair.web;

import jakarta.validation.ConstraintViolationException;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.Method;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.repair.MethodView;
import org.quarterlight.repair.Methods;
import org.quarterlight.repair.SaveMethod;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.FormErrors;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Words;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** How an organisation repairs, from the data sheets of its resins. */
@Controller
class MethodPages {
    private static final BigDecimal MOST_MINUTES = BigDecimal.valueOf(1440);
    private static final BigDecimal SECONDS_OF_A_MINUTE = BigDecimal.valueOf(60);

    /** For phases that stand more than once. */
    private static final int SPARE_ROWS = 3;

    private static final Map<String, String> LABELS = Map.of(
            "name", "Name",
            "resin", "Resin",
            "source", "Source",
            "leastGlassCelsius", "Coldest glass",
            "mostGlassCelsius", "Warmest glass",
            "mostHumidityPercent", "Highest humidity",
            "cureDoseJPerCm2", "Dose",
            "leastCycles", "Cycles",
            "restSeconds", "Rest");

    private final Methods methods;

    MethodPages(Methods methods) {
        this.methods = methods;
    }

    /** The fields beside those of the phases, which have names of their own. */
    static class MethodForm {
        @NotBlank(message = "Give it a name")
        @Size(max = 120)
        @Nullable
        String name;

        @NotBlank(message = "Name the resin")
        @Size(max = 120)
        @Nullable
        String resin;

        @NotBlank(message = "Say which data sheet it comes from")
        @Size(max = 200)
        @Nullable
        String source;

        @Nullable
        BigDecimal leastGlassCelsius;

        @Nullable
        BigDecimal mostGlassCelsius;

        @Nullable
        BigDecimal mostHumidityPercent;

        @Nullable
        BigDecimal cureDoseJPerCm2;

        @Nullable
        Integer leastCycles = 1;

        @Nullable
        Integer restSeconds = 0;

        boolean overlaps;

        @Nullable
        Integer version;
    }

    /** A phase in the form: its place in the order, empty where it is none of the method; times in minutes. */
    record Row(String kind, String place, boolean asNeeded, String least, String most) {}

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    @GetMapping("/methods")
    String list(SliceRequest wanted, Model model) {
        model.addAttribute("methods", methods.list(wanted));
        return "repair/methods";
    }

    @GetMapping("/methods/new")
    String fresh(@ModelAttribute("form") MethodForm form, Model model) {
        return page(null, rows(Method.GENERIC), model);
    }

    @GetMapping("/methods/{id}")
    String method(@PathVariable UUID id, Model model) {
        var view = methods.method(id);
        model.addAttribute("form", form(view));
        return page(view, rows(view.method()), model);
    }

    @PostMapping("/methods")
    String create(
            @Valid @ModelAttribute("form") MethodForm form,
            BindingResult errors,
            @RequestParam Map<String, String> all,
            Model model,
            RedirectAttributes after) {
        forWriters();
        if (!errors.hasErrors()) {
            try {
                var view = methods.create(command(form, all));
                after.addFlashAttribute(
                        "notice", Notice.done(view.method().name() + " can be chosen when a job starts."));
                return "redirect:/methods";
            } catch (Invalid e) {
                FormErrors.reject(e, errors);
            } catch (ConstraintViolationException e) {
                reject(e, errors);
            }
        }
        return page(null, typed(all), model);
    }

    @PostMapping("/methods/{id}")
    String change(
            @PathVariable UUID id,
            @Valid @ModelAttribute("form") MethodForm form,
            BindingResult errors,
            @RequestParam Map<String, String> all,
            Model model,
            RedirectAttributes after) {
        forWriters();
        if (!errors.hasErrors()) {
            try {
                var view = methods.change(id, command(form, all), Objects.requireNonNullElse(form.version, 0));
                after.addFlashAttribute(
                        "notice", Notice.done("Version " + view.version() + " holds for jobs that start from now on."));
                return "redirect:/methods/" + id;
            } catch (Invalid e) {
                FormErrors.reject(e, errors);
            } catch (ConstraintViolationException e) {
                reject(e, errors);
            }
        }
        return page(methods.method(id), typed(all), model);
    }

    @PostMapping("/methods/{id}/retire")
    String retire(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        methods.retire(id, version);
        after.addFlashAttribute("notice", Notice.done("It is out of use. Jobs that began by it keep it."));
        return "redirect:/methods";
    }

    /** What is wrong with a form is told only to those who may send it; the service asks again. */
    private static void forWriters() {
        if (!Acting.require().isAny(Role.DISPATCHER, Role.MANAGER)) {
            throw new AccessDeniedException("only a performer's dispatchers and managers write methods");
        }
    }

    private static String page(@Nullable MethodView view, List<Row> rows, Model model) {
        model.addAttribute("method", view);
        model.addAttribute("rows", rows);
        model.addAttribute("kinds", PhaseKind.values());
        model.addAttribute("labels", LABELS);
        return "repair/method";
    }

    private static void reject(ConstraintViolationException problems, BindingResult errors) {
        problems.getConstraintViolations().forEach(violation -> {
            var path = violation.getPropertyPath().toString();
            FormErrors.reject(path.substring(path.lastIndexOf('.') + 1), violation.getMessage(), errors);
        });
    }

    private static MethodForm form(MethodView view) {
        var saved = SaveMethod.of(view.method());
        var form = new MethodForm();
        form.name = saved.name();
        form.resin = saved.resin();
        form.source = saved.source();
        form.leastGlassCelsius = plain(saved.leastGlassCelsius());
        form.mostGlassCelsius = plain(saved.mostGlassCelsius());
        form.mostHumidityPercent = plain(saved.mostHumidityPercent());
        form.cureDoseJPerCm2 = plain(saved.cureDoseJPerCm2());
        form.leastCycles = saved.leastCycles();
        form.restSeconds = saved.restSeconds();
        form.overlaps = view.method().overlaps();
        form.version = view.version();
        return form;
    }

    private static @Nullable BigDecimal plain(@Nullable BigDecimal value) {
        return value == null ? null : new BigDecimal(value.toPlainString());
    }

    private static SaveMethod command(MethodForm form, Map<String, String> all) {
        return new SaveMethod(
                Objects.requireNonNull(form.name),
                Objects.requireNonNull(form.resin),
                Objects.requireNonNull(form.source),
                form.leastGlassCelsius,
                form.mostGlassCelsius,
                form.mostHumidityPercent,
                form.cureDoseJPerCm2,
                form.leastCycles,
                form.restSeconds,
                form.overlaps,
                steps(all));
    }

    private record Placed(BigDecimal place, SaveMethod.SaveStep step) {}

    private static List<SaveMethod.SaveStep> steps(Map<String, String> all) {
        var placed = new ArrayList<Placed>();
        for (var row : typed(all)) {
            if (row.place().isBlank()) {
                continue;
            }
            if (row.kind().isBlank()) {
                throw new Invalid(
                        "steps", "Choose the phase of place " + row.place().trim());
            }
            var least = seconds(row.least(), row.kind());
            var most = seconds(row.most(), row.kind());
            placed.add(new Placed(
                    number(row.place(), row.kind()),
                    new SaveMethod.SaveStep(kind(row.kind()), !row.asNeeded(), least == null ? 0 : least, most)));
        }
        return placed.stream()
                .sorted(Comparator.comparing(Placed::place))
                .map(Placed::step)
                .toList();
    }

    private static PhaseKind kind(String word) {
        try {
            return Words.read(PhaseKind.class, word);
        } catch (IllegalArgumentException e) {
            throw new Invalid("steps", "There is no such phase");
        }
    }

    private static @Nullable Integer seconds(String minutes, String kind) {
        if (minutes.isBlank()) {
            return null;
        }
        var seconds = number(minutes, kind).multiply(SECONDS_OF_A_MINUTE);
        return seconds.setScale(0, RoundingMode.HALF_UP).intValueExact();
    }

    private static BigDecimal number(String text, String kind) {
        try {
            var number = new BigDecimal(text.trim().replace(',', '.'));
            if (number.signum() >= 0 && number.compareTo(MOST_MINUTES) <= 0 && number.scale() <= 2) {
                return number;
            }
        } catch (NumberFormatException e) {
            // told below
        }
        throw new Invalid("steps", "Places and minutes of " + kind.replace('-', ' ') + " are numbers up to 1440");
    }

    private static List<Row> rows(Method method) {
        var rows = new ArrayList<Row>();
        for (var step : method.steps()) {
            rows.add(new Row(
                    Words.of(step.kind()),
                    Integer.toString(rows.size() + 1),
                    !step.required(),
                    minutes(step.leastSeconds() == 0 ? null : step.leastSeconds()),
                    minutes(step.mostSeconds())));
        }
        IntStream.range(0, SPARE_ROWS).forEach(spare -> rows.add(new Row("", "", false, "", "")));
        return rows;
    }

    private static String minutes(@Nullable Integer seconds) {
        return seconds == null
                ? ""
                : BigDecimal.valueOf(seconds)
                        .divide(SECONDS_OF_A_MINUTE, 2, RoundingMode.HALF_UP)
                        .stripTrailingZeros()
                        .toPlainString();
    }

    private static List<Row> typed(Map<String, String> all) {
        return IntStream.range(0, SaveMethod.MOST_STEPS + SPARE_ROWS)
                .filter(row -> all.containsKey("kind-" + row))
                .mapToObj(row -> new Row(
                        all.getOrDefault("kind-" + row, ""),
                        all.getOrDefault("place-" + row, ""),
                        all.containsKey("needed-" + row),
                        all.getOrDefault("least-" + row, ""),
                        all.getOrDefault("most-" + row, "")))
                .toList();
    }
}
