package org.quarterlight.account.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.ConstraintViolationException;
import java.util.Map;
import java.util.UUID;
import org.quarterlight.account.ChangePassword;
import org.quarterlight.account.OwnAccess;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.web.Notice;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A person's own password and invitations, and the first password's replacement before the first sign-in. */
@Controller
class MePages {
    private static final Map<String, String> LABELS =
            Map.of("command.present", "Present password", "command.next", "New password");

    private final OwnAccess access;

    MePages(OwnAccess access) {
        this.access = access;
    }

    @GetMapping("/settings/me")
    String me(Model model) {
        model.addAttribute("invitations", access.invitations());
        return "account/me";
    }

    @PostMapping("/settings/me/password")
    String changePassword(
            @RequestParam(defaultValue = "") String present,
            @RequestParam(defaultValue = "") String next,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model,
            RedirectAttributes after) {
        try {
            access.changePassword(
                    new ChangePassword(present, next),
                    request.getRemoteAddr(),
                    request.getSession().getId());
            after.addFlashAttribute(
                    "notice", Notice.done("Your password is changed. Sessions elsewhere and keys made before ended."));
            return "redirect:/settings/me";
        } catch (Invalid e) {
            model.addAttribute("problem", e.problem());
        } catch (ConstraintViolationException e) {
            model.addAttribute("problem", FormProblems.of(e, LABELS));
        }
        response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        return me(model);
    }

    @PostMapping("/settings/me/invitations/{organisation}/accept")
    String accept(@PathVariable UUID organisation, RedirectAttributes after) {
        access.accept(organisation);
        after.addFlashAttribute("notice", Notice.done("You are in. Switch to it where your name stands."));
        return "redirect:/settings/me";
    }

    @PostMapping("/settings/me/invitations/{organisation}/decline")
    String decline(@PathVariable UUID organisation, RedirectAttributes after) {
        access.decline(organisation);
        after.addFlashAttribute("notice", Notice.done("Declined."));
        return "redirect:/settings/me";
    }

    @GetMapping("/first-password")
    String first() {
        return "account/first-password";
    }

    @PostMapping("/first-password")
    String replaceFirst(
            @RequestParam(defaultValue = "") String email,
            @RequestParam(defaultValue = "") String present,
            @RequestParam(defaultValue = "") String next,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model) {
        try {
            access.replaceFirst(email, new ChangePassword(present, next), request.getRemoteAddr());
            return "redirect:/sign-in?changed";
        } catch (Invalid e) {
            model.addAttribute("problem", e.problem());
        } catch (ConstraintViolationException e) {
            model.addAttribute("problem", FormProblems.of(e, LABELS));
        }
        response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        model.addAttribute("email", email);
        return "account/first-password";
    }
}
