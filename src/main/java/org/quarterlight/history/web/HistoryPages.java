package org.quarterlight.history.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.history.History;
import org.quarterlight.history.HistoryChain;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.web.Flag;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

@Controller
class HistoryPages {
    private final History history;
    private final HistoryChain chain;

    HistoryPages(History history, HistoryChain chain) {
        this.history = history;
        this.chain = chain;
    }

    @GetMapping("/history")
    String list(@RequestParam(required = false) @Nullable UUID subject, SliceRequest wanted, Model model) {
        model.addAttribute("lines", history.lines(subject, wanted));
        model.addAttribute("subject", subject);
        return "history/list";
    }

    /** Reads nothing through before somebody asks for it. */
    @GetMapping("/history/chain")
    String chain(
            @RequestParam(required = false) @Nullable Flag check,
            @RequestParam(defaultValue = "") String number,
            @RequestParam(defaultValue = "") String hash,
            Model model,
            HttpServletResponse response) {
        model.addAttribute("number", number);
        model.addAttribute("hash", hash);
        model.addAttribute("seals", chain.seals(SliceRequest.first()).items());
        if (Boolean.TRUE.equals(Flag.on(check))) {
            try {
                model.addAttribute("report", chain.checked(number(number), hash));
            } catch (Invalid e) {
                response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
                model.addAttribute("problems", Map.of(e.field(), e.problem()));
            }
        }
        return "history/chain";
    }

    @PostMapping("/history/chain/seals")
    String seal(RedirectAttributes after) {
        chain.sealNow();
        after.addFlashAttribute("notice", Notice.done("The end of the history is signed."));
        return "redirect:/history/chain";
    }

    private static @Nullable Long number(String typed) {
        var digits = typed.strip();
        if (digits.isEmpty()) {
            return null;
        }
        if (!digits.matches("\\d{1,18}")) {
            throw new Invalid("number", "Give a whole number");
        }
        return Long.valueOf(digits);
    }
}
