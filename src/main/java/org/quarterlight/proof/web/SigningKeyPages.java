package org.quarterlight.proof.web;

import org.quarterlight.proof.SigningKeys;
import org.quarterlight.web.Notice;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

@Controller
class SigningKeyPages {
    private final SigningKeys keys;

    SigningKeyPages(SigningKeys keys) {
        this.keys = keys;
    }

    @GetMapping("/operator/signing-keys")
    String list(Model model) {
        model.addAttribute("keys", keys.all());
        return "proof/keys";
    }

    @PostMapping("/operator/signing-keys")
    String rotate(RedirectAttributes after) {
        keys.rotate();
        after.addFlashAttribute("notice", Notice.done("A new key signs from now on."));
        return "redirect:/operator/signing-keys";
    }
}
