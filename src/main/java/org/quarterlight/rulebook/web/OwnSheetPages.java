package org.quarterlight.rulebook.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Bound;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Quantity;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.eligibility.Status;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.kernel.InvalidText;
import org.quarterlight.kernel.Stale;
import org.quarterlight.rulebook.OwnSheet;
import org.quarterlight.rulebook.OwnSheets;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.Choice;
import org.quarterlight.web.Notice;
import org.quarterlight.web.Words;
import org.springframework.http.HttpStatus;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/**
 * Writing a sheet of one's own in a form. Of a shipped sheet, a blank or a published version the form keeps a new draft;
 * of a draft it keeps the draft.
 */
@Controller
class OwnSheetPages {
    private static final String BLANK = "blank-";

    private static final List<Choice> CONSTRUCTIONS = List.of(
            Choice.of("band", "Upright band before the driver"),
            Choice.of("square", "Square before the driver's eye"),
            Choice.of("rectangle", "Rectangle before the driver's eye"),
            Choice.of("strip", "Strip along a side's edge"),
            Choice.of("half", "Half of the glass"),
            Choice.of("inset", "A zone without borders"),
            Choice.of("without", "A zone without others"),
            Choice.of("union", "Several zones together"));
    private static final List<Choice> CENTRES =
            List.of(Choice.of("wheel", "the steering wheel's centre"), Choice.of("eye", "the driver's eye point"));
    private static final List<Choice> SIDES =
            List.of(Choice.of("driver", "the driver's"), Choice.of("passenger", "the passenger's"));
    private static final List<Choice> WHEEL_TOPS =
            List.of(Choice.of("no", "belongs to it"), Choice.of("yes", "does not belong to it"));

    private static final List<Choice> FINISHED = List.of(
            Choice.of("no", "is forgotten once it is repaired"),
            Choice.of("too", "goes on for a finished repair"),
            Choice.of("alone", "is for finished repairs alone"));

    private final OwnSheets own;
    private final JsonMapper json;

    OwnSheetPages(OwnSheets own, JsonMapper json) {
        this.own = own;
        this.json = json;
    }

    /** What the form begins with; no sheet of one's own where it is shipped or blank. */
    private record Start(String text, @Nullable OwnSheet mine, Question question) {
        int version() {
            return mine == null ? 0 : mine.version();
        }
    }

    @GetMapping("/rule-sheets/{id}/edit")
    String edit(@PathVariable String id, Model model) {
        forManager();
        var start = start(id);
        var form = SheetForm.of(json.readTree(start.text()));
        if (start.mine() != null) {
            form.mistaken(start.mine().mistakes());
        }
        var sheet = start.mine() != null ? start.mine().sheet() : null;
        var glass = sheet == null ? GenericGlass.SMALL_CAR : GenericGlass.of(SheetDrawing.category(sheet));
        return show(id, start, form.rows.isEmpty() ? form.with(empty(start.question())) : form, glass, side(id), model);
    }

    private static SteeringSide side(String id) {
        return Sheets.shipped().stream()
                .filter(sheet -> sheet.id().equals(id))
                .findFirst()
                .map(SheetDrawing::side)
                .orElse(SteeringSide.RIGHT);
    }

    @PostMapping("/rule-sheets/{id}/edit")
    String save(
            @PathVariable String id,
            @RequestParam MultiValueMap<String, String> fields,
            @RequestParam(name = "do", defaultValue = "save") String verb,
            @RequestParam(defaultValue = "small-car") GenericGlass glass,
            @RequestParam(defaultValue = "right") SteeringSide side,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        forManager();
        var start = start(id);
        var form = SheetForm.typed(fields);
        if (verb.equals("add")) {
            return show(id, start, form.with(empty(start.question())), glass, side, model);
        }
        var changed = form.changed(verb);
        if (changed != null) {
            return show(id, start, changed, glass, side, model);
        }
        if (!form.hasGoodNames()) {
            response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
            return show(id, start, form, glass, side, model);
        }
        try {
            var kept = keep(id, start, form.applied(base(start), json), version(fields));
            after.addFlashAttribute(
                    "notice", Notice.done("Kept as a draft. It judges nothing before it is published."));
            return "redirect:/rule-sheets/" + kept.id() + (verb.equals("try") ? "/preview" : "/edit");
        } catch (InvalidText e) {
            form.mistaken(e.mistakes());
            response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        } catch (Stale e) {
            form.others.add(e.getMessage() + "; save again to put yours in its place");
            response.setStatus(HttpStatus.CONFLICT.value());
        }
        return show(id, start, form, glass, side, model);
    }

    @PostMapping("/rule-sheets/{id}/delete")
    String delete(@PathVariable String id, @RequestParam int version, RedirectAttributes after) {
        forManager();
        var isAll = own.versions(id).size() == 1;
        own.delete(id, version);
        after.addFlashAttribute("notice", Notice.done("The draft is deleted."));
        return isAll ? "redirect:/rule-sheets" : "redirect:/rule-sheets/" + id;
    }

    /** The drawing alone, as the form stands; nothing is kept. */
    @PostMapping("/rule-sheets/{id}/drawing")
    String drawing(
            @PathVariable String id,
            @RequestParam MultiValueMap<String, String> fields,
            @RequestParam(defaultValue = "small-car") GenericGlass glass,
            @RequestParam(defaultValue = "right") SteeringSide side,
            Model model) {
        forManager();
        draw(start(id), SheetForm.typed(fields), glass, side, model);
        return "rulebook/edit :: drawing";
    }

    private OwnSheet keep(String id, Start start, ObjectNode sheet, int version) {
        var text = json.writerWithDefaultPrettyPrinter().writeValueAsString(sheet);
        var mine = start.mine();
        if (mine == null) {
            return own.create(text, id.startsWith(BLANK) ? null : id);
        }
        if (mine.draft()) {
            return own.rewrite(id, text, version);
        }
        own.read(text);
        return own.rewrite(id, text, own.startVersion(id).version());
    }

    private static int version(MultiValueMap<String, String> fields) {
        var version = Objects.requireNonNullElse(fields.getFirst("version"), "");
        return version.matches("\\d{1,9}") ? Integer.parseInt(version) : -1;
    }

    private Start start(String id) {
        if (id.startsWith(BLANK)) {
            for (var question : List.of(Question.ROADWORTHY, Question.REPAIRABLE, Question.ACCEPTABLE)) {
                if (id.equals(BLANK + question.word())) {
                    return new Start(own.blank(question), null, question);
                }
            }
        }
        var shipped =
                Sheets.shipped().stream().filter(sheet -> sheet.id().equals(id)).findFirst();
        if (shipped.isPresent()) {
            var copy = (ObjectNode) json.readTree(Sheets.textOf(id));
            copy.put("name", OwnSheets.ourVersionOf(shipped.get().name()));
            copy.remove("onlyByChoice");
            copy.remove("disagreement");
            return new Start(json.writeValueAsString(copy), null, shipped.get().question());
        }
        var newest = own.versions(id).getFirst();
        return new Start(newest.text(), newest, newest.sheet().question());
    }

    private ObjectNode base(Start start) {
        return (ObjectNode) json.readTree(start.text());
    }

    private static SheetForm.Row empty(Question question) {
        return new SheetForm.Row(
                "",
                "",
                "",
                Set.of(),
                "",
                Quantity.OVERALL_DIAMETER.word(),
                Bound.AT_MOST.word(),
                "",
                question == Question.ROADWORTHY ? Grade.MAJOR.word() : "no",
                "",
                "",
                Words.of(Status.COMMON_PRACTICE),
                SheetForm.More.nothing());
    }

    private String show(String id, Start start, SheetForm form, GenericGlass glass, SteeringSide side, Model model) {
        model.addAttribute("id", id);
        model.addAttribute("mine", start.mine());
        model.addAttribute("version", start.version());
        model.addAttribute("name", form.name);
        model.addAttribute("about", form.about);
        model.addAttribute("finished", FINISHED);
        model.addAttribute("rows", form.rows);
        model.addAttribute("zones", form.zones);
        model.addAttribute("firsts", form.firstWays());
        model.addAttribute("places", form.places());
        model.addAttribute("constructions", CONSTRUCTIONS);
        model.addAttribute("centres", CENTRES);
        model.addAttribute("sides", SIDES);
        model.addAttribute("wheelTops", WHEEL_TOPS);
        model.addAttribute("kinds", SheetForm.kinds());
        model.addAttribute("mistakes", form.errors);
        model.addAttribute("summary", form.summary());
        model.addAttribute("others", form.others);
        model.addAttribute("asked", SheetWords.asked(start.question()));
        model.addAttribute("wheres", wheres(form));
        model.addAttribute(
                "quantities",
                Arrays.stream(Quantity.values())
                        .map(each ->
                                Choice.of(each.word(), SheetWords.reads(each).replace(":", "")))
                        .toList());
        model.addAttribute("bounds", words(Bound.values()));
        model.addAttribute(
                "consequences",
                start.question() == Question.ROADWORTHY
                        ? Stream.of(Grade.MINOR, Grade.MAJOR, Grade.DANGEROUS)
                                .map(grade -> Choice.of(grade.word(), SheetWords.consequence(start.question(), grade)))
                                .toList()
                        : List.of(Choice.of("no", SheetWords.consequence(start.question(), null))));
        model.addAttribute(
                "statuses",
                Arrays.stream(Status.values())
                        .map(each -> Choice.of(each.word(), SheetWords.status(each)))
                        .toList());
        model.addAttribute(
                "glasses",
                Arrays.stream(GenericGlass.values())
                        .map(each -> Choice.of(Words.of(each), each.title()))
                        .toList());
        model.addAttribute("glass", Words.of(glass));
        model.addAttribute("side", Words.of(side));
        draw(start, form, glass, side, model);
        return "rulebook/edit";
    }

    private void draw(Start start, SheetForm form, GenericGlass glass, SteeringSide side, Model model) {
        var sheet = form.applied(base(start), json);
        model.addAttribute("drawing", drawn(sheet, glass, side));
    }

    /**
     * Zones can be drawn before every limit is said, and those that no limit names yet; parts of others are left out. Null
     * where they cannot be drawn.
     */
    private @Nullable String drawn(ObjectNode sheet, GenericGlass glass, SteeringSide side) {
        var named = new HashSet<String>();
        sheet.path("rules").forEach(rule -> named.add(rule.path("where").asString("")));
        var parts = new HashSet<String>();
        sheet.path("zones").forEach(ways -> ways.findValues("within").forEach(part -> parts.add(part.asString(""))));
        sheet.path("zones").forEach(ways -> ways.findValues("from").forEach(part -> parts.add(part.asString(""))));
        for (var list : List.of("zones", "union")) {
            sheet.path("zones")
                    .forEach(ways ->
                            ways.findValues(list).forEach(each -> each.forEach(part -> parts.add(part.asString("")))));
        }
        var zones = sheet.deepCopy();
        zones.put("name", "A sheet in the making");
        var rules = zones.putArray("rules");
        sheet.path("zones").propertyNames().stream()
                .filter(zone -> named.contains(zone) || !parts.contains(zone))
                .forEach(zone -> fill(
                        rules.addObject().put("rule", "drawn-" + zone).put("where", zone),
                        sheet,
                        Quantity.DISTANCE_TO_ZONE,
                        Bound.MORE_THAN,
                        0));
        if (rules.isEmpty()) {
            fill(rules.addObject().put("rule", "nothing"), sheet, Quantity.OVERALL_DIAMETER, Bound.AT_MOST, 1);
        }
        try {
            return SheetDrawing.svg(own.read(json.writeValueAsString(zones)), glass, side);
        } catch (InvalidText impossible) {
            return null;
        }
    }

    /** With what every rule of a sheet has to say; nobody is shown it. */
    private static void fill(ObjectNode rule, ObjectNode sheet, Quantity quantity, Bound bound, int limitMm) {
        rule.put("quantity", quantity.word())
                .put("bound", bound.word())
                .put("limitMm", limitMm)
                .put("ifBroken", sheet.path("question").asString().equals("roadworthy") ? "minor" : "no")
                .put("countsFinishedRepairs", false)
                .putObject("source")
                .put("document", "none")
                .put("status", "common-practice");
    }

    private static List<Choice> wheres(SheetForm form) {
        var choices = new ArrayList<Choice>();
        choices.add(Choice.of("", "Anywhere"));
        choices.addAll(form.places());
        return choices;
    }

    private static List<Choice> words(Enum<?>[] constants) {
        return Arrays.stream(constants)
                .map(each -> Choice.of(
                        Words.of(each), Words.of(each).replace('-', ' ').toLowerCase(Locale.ROOT)))
                .toList();
    }

    private static void forManager() {
        if (!Acting.require().is(Role.MANAGER)) {
            throw new AccessDeniedException("only a manager writes rules");
        }
    }
}
