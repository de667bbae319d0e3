package org.quarterlight.web;

import java.net.URI;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestAttribute;
import org.springframework.web.servlet.ModelAndView;

/** What a form's second sending meets, for people: where the first one led, and the way back to the form. */
@Controller
class SentAlready {
    static final String PATH = "/sent-already";

    static final String WHY = SentAlready.class.getName() + ".why";
    static final String MADE = SentAlready.class.getName() + ".made";
    static final String FORM = SentAlready.class.getName() + ".form";

    /** Another body than the one that was kept. */
    static final String CHANGED = "changed";

    /** The first is not done yet. */
    static final String RUNNING = "running";

    /** What was made is shown once. */
    static final String SECRET = "secret";

    /** Asked for by its own address there is nothing to say. */
    @GetMapping(PATH)
    ModelAndView page(
            @RequestAttribute(name = "org.quarterlight.web.SentAlready.why", required = false) @Nullable String why,
            @RequestAttribute(name = "org.quarterlight.web.SentAlready.made", required = false) @Nullable String made,
            @RequestAttribute(name = "org.quarterlight.web.SentAlready.form", required = false) @Nullable String form) {
        if (why == null) {
            return new ModelAndView("redirect:/");
        }
        var page = new ModelAndView(
                "sent-already", CHANGED.equals(why) ? HttpStatus.UNPROCESSABLE_CONTENT : HttpStatus.CONFLICT);
        page.addObject("why", why);
        page.addObject("made", made == null ? null : path(made));
        page.addObject("form", form);
        return page;
    }

    private static @Nullable String path(String location) {
        try {
            var uri = URI.create(location);
            var path = uri.getRawQuery() == null ? uri.getRawPath() : uri.getRawPath() + "?" + uri.getRawQuery();
            return uri.getRawFragment() == null ? path : path + "#" + uri.getRawFragment();
        } catch (IllegalArgumentException e) {
            return null;
        }
    }
}
