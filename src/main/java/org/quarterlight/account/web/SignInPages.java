package org.quarterlight.account.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.UUID;
import org.quarterlight.account.Organisations;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

@Controller
class SignInPages {
    private final Organisations organisations;
    private final HttpSessionSecurityContextRepository sessions = new HttpSessionSecurityContextRepository();

    SignInPages(Organisations organisations) {
        this.organisations = organisations;
    }

    @GetMapping("/sign-in")
    String signIn(HttpServletRequest request, Model model) {
        if (Acting.current().isPresent()) {
            return "redirect:/";
        }
        var parameters = request.getParameterMap();
        model.addAttribute("failed", parameters.containsKey("failed"));
        model.addAttribute("locked", parameters.containsKey("locked"));
        model.addAttribute("changed", parameters.containsKey("changed"));
        model.addAttribute("out", parameters.containsKey("out"));
        return "account/sign-in";
    }

    @PostMapping("/organisation/switch")
    String switchOrganisation(
            @RequestParam UUID organisation, HttpServletRequest request, HttpServletResponse response) {
        var acting = organisations.switchTo(organisation);
        request.changeSessionId();
        var context = SecurityContextHolder.createEmptyContext();
        context.setAuthentication(new ActingAuthentication(acting));
        SecurityContextHolder.setContext(context);
        sessions.saveContext(context, request, response);
        return "redirect:/";
    }
}
