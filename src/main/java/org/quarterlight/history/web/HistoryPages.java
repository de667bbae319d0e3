package org.quarterlight.history.web;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.history.History;
import org.quarterlight.web.SliceRequest;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

@Controller
class HistoryPages {
    private final History history;

    HistoryPages(History history) {
        this.history = history;
    }

    @GetMapping("/history")
    String list(@RequestParam(required = false) @Nullable UUID subject, SliceRequest wanted, Model model) {
        model.addAttribute("lines", history.lines(subject, wanted));
        model.addAttribute("subject", subject);
        return "history/list";
    }
}
