package org.quarterlight.web;

import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;

/** The words of the trade, a sentence each. */
@Controller
class GlossaryPage {
    @GetMapping("/glossary")
    String glossary() {
        return "glossary";
    }
}
