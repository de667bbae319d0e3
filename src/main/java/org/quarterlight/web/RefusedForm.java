package org.quarterlight.web;

import jakarta.servlet.http.HttpServletRequest;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.jspecify.annotations.Nullable;

/**
 * A form that was refused, as it was sent, and why. Put into its page it holds what was typed, and says beside the field
 * what is to be mended.
 *
 * @param path that it was sent to
 * @param typed of every field
 */
record RefusedForm(String path, Map<String, String[]> typed, List<Problem> problems) {
    /**
     * One thing to mend.
     *
     * @param field as the form names it, null where it is none of one field
     * @param inUnit the field's unit belongs behind the sentence
     */
    record Problem(@Nullable String field, String sentence, boolean inUnit) {
        static Problem of(@Nullable String field, String sentence) {
            return new Problem(field, sentence, false);
        }
    }

    static RefusedForm of(HttpServletRequest request, List<Problem> problems) {
        return new RefusedForm(request.getRequestURI(), Map.copyOf(request.getParameterMap()), problems);
    }

    /** Fills the form where the page still has it, and tells what is to be mended at its head. */
    void into(Document page) {
        var form = form(page);
        if (form != null) {
            fill(form);
            form.parents().stream()
                    .filter(each -> each.normalName().equals("details"))
                    .forEach(each -> each.attr("open", "open"));
        }
        var lines = new ArrayList<Element>();
        for (var problem : problems) {
            var field = form == null || problem.field() == null ? null : field(form, problem.field());
            lines.add(field == null ? line(problem.sentence()) : beside(field, problem, lines.size()));
        }
        summary(page, lines);
    }

    /** Several forms of a page may go to the same address: the one whose fields were sent. */
    private @Nullable Element form(Document page) {
        Element best = null;
        var most = Integer.MIN_VALUE;
        for (var form : page.select("form[method=post]")) {
            if (form.attr("action").equals(path)) {
                var alike = alike(form);
                if (alike > most) {
                    most = alike;
                    best = form;
                }
            }
        }
        return best;
    }

    private int alike(Element form) {
        var alike = 0;
        for (var field : form.select("[name]")) {
            var name = field.attr("name");
            if (own(name)) {
                continue;
            }
            var sent = typed.get(name);
            var fixed = is(field, "button") || field.attr("type").equals("hidden");
            if (sent == null) {
                alike -= fixed || box(field) ? 0 : 1;
            } else if (fixed) {
                alike += Arrays.asList(sent).contains(field.attr("value")) ? 10 : is(field, "button") ? 0 : -100;
            } else {
                alike++;
            }
        }
        return alike;
    }

    private void fill(Element form) {
        for (var field : form.select("input[name], textarea[name], select[name]")) {
            var name = field.attr("name");
            if (own(name)) {
                continue;
            }
            var sent = typed.get(name);
            var values = sent == null ? List.<String>of() : Arrays.asList(sent);
            if (box(field)) {
                field.attr("checked", values.contains(field.attr("value")));
            } else if (is(field, "select") && !values.isEmpty()) {
                field.select("option")
                        .forEach(option -> option.attr("selected", values.contains(option.attr("value"))));
            } else if (is(field, "textarea") && !values.isEmpty()) {
                field.text(PlainText.of(values.getFirst()));
            } else if (!values.isEmpty()
                    && !List.of("hidden", "file", "password").contains(field.attr("type"))) {
                field.attr("value", PlainText.of(values.getFirst()));
            }
        }
    }

    private static Element beside(Element field, Problem problem, int number) {
        var around = field.closest(".field");
        var unit = around == null ? null : around.selectFirst(".unit");
        var sentence = problem.inUnit() && unit != null ? problem.sentence() + " " + unit.text() : problem.sentence();
        if (field.id().isEmpty()) {
            field.attr("id", "to-mend-" + number);
        }
        var error = new Element("span")
                .addClass("error")
                .attr("id", field.id() + "-error")
                .text(sentence);
        var label = around == null ? field.closest("label") : around.selectFirst("label, legend");
        if (around == null) {
            var choice = label == null ? field : label;
            choice.before(error);
            error.wrap("<div class=\"field wrong\"></div>");
            var wrapped = error.parent();
            if (wrapped != null) {
                wrapped.appendChild(choice);
            }
        } else {
            around.addClass("wrong");
            var after = around.selectFirst(".field > .hint, fieldset > .hint");
            var place = after == null ? label : after;
            if (place == null) {
                around.prependChild(error);
            } else {
                place.after(error);
            }
        }
        field.attr("aria-invalid", "true");
        field.attr("aria-describedby", (field.attr("aria-describedby") + " " + error.id()).strip());
        var called = label == null ? "" : ownWords(label);
        var line = new Element("li");
        line.appendElement("a")
                .attr("href", "#" + field.id())
                .text(called.isEmpty() || called.length() > 60 ? sentence : called + ": " + lowered(sentence));
        return line;
    }

    /** The label without the note that the field may be left empty. */
    private static String ownWords(Element label) {
        var copy = label.clone();
        copy.select(".optional, .hint").remove();
        return copy.text().strip();
    }

    private static String lowered(String sentence) {
        return sentence.length() > 1 && Character.isUpperCase(sentence.charAt(1))
                ? sentence
                : sentence.substring(0, 1).toLowerCase(Locale.ROOT) + sentence.substring(1);
    }

    private static Element line(String sentence) {
        var line = new Element("li");
        line.appendElement("span").text(sentence);
        return line;
    }

    private static void summary(Document page, List<Element> lines) {
        var main = page.selectFirst("main");
        if (main == null) {
            return;
        }
        var summary = new Element("div")
                .addClass("error-summary")
                .attr("role", "alert")
                .attr("tabindex", "-1")
                .attr("data-error-summary", "")
                .attr("aria-labelledby", "error-summary-title");
        summary.appendElement("h2")
                .attr("id", "error-summary-title")
                .text(lines.size() == 1 ? "One thing to mend" : lines.size() + " things to mend");
        var list = summary.appendElement("ul");
        lines.forEach(list::appendChild);
        main.prependChild(summary);
    }

    private static @Nullable Element field(Element form, String name) {
        return form.select("input[name], select[name], textarea[name]").stream()
                .filter(each ->
                        each.attr("name").equals(name) && !each.attr("type").equals("hidden"))
                .findFirst()
                .orElse(null);
    }

    private static boolean is(Element element, String name) {
        return element.normalName().equals(name);
    }

    private static boolean box(Element field) {
        return field.attr("type").equals("checkbox") || field.attr("type").equals("radio");
    }

    /** Of the form itself, not of what is typed: what it was filled from may have changed meanwhile. */
    private static boolean own(String name) {
        return name.equals("_csrf") || name.equals(Idempotency.FIELD) || name.equals("version") || name.equals("seen");
    }

    /** A bound as people write it: 90, not 90.0. */
    static String bound(Object value) {
        try {
            return new BigDecimal(value.toString()).stripTrailingZeros().toPlainString();
        } catch (NumberFormatException e) {
            return value.toString();
        }
    }
}
