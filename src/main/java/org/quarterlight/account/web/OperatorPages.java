package org.quarterlight.account.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.ConstraintViolationException;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.quarterlight.account.AddMember;
import org.quarterlight.account.CreateOrganisation;
import org.quarterlight.account.Organisations;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The platform's own pages: who is served, and whether the service is well. They show no organisation's data. */
@Controller
class OperatorPages {
    private static final Map<String, String> LABELS = Map.of(
            "administrator.name", "First administrator",
            "administrator.email", "Their e-mail",
            "administrator.password", "First password",
            "command.name", "Name",
            "command.country", "Country");

    private final Organisations organisations;

    OperatorPages(Organisations organisations) {
        this.organisations = organisations;
    }

    @GetMapping("/operator/organisations")
    String list(SliceRequest wanted, Model model) {
        model.addAttribute("organisations", organisations.list(wanted));
        return "account/organisations";
    }

    @PostMapping("/operator/organisations")
    String create(
            @RequestParam OrganisationKind kind,
            @RequestParam(defaultValue = "") String name,
            @RequestParam(defaultValue = "") String country,
            @RequestParam(defaultValue = "") String email,
            @RequestParam(defaultValue = "") String person,
            @RequestParam(defaultValue = "") String password,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        try {
            organisations.create(new CreateOrganisation(
                    kind,
                    name,
                    country.toUpperCase(Locale.ROOT),
                    null,
                    new AddMember(email, person, Set.of(Role.ADMINISTRATOR), password.isBlank() ? null : password)));
            after.addFlashAttribute("notice", Notice.done(name + " is served from now on."));
            return "redirect:/operator/organisations";
        } catch (Invalid e) {
            model.addAttribute("problem", e.problem());
        } catch (ConstraintViolationException e) {
            model.addAttribute("problem", FormProblems.of(e, LABELS));
        }
        response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        model.addAttribute("typedName", name);
        model.addAttribute("typedCountry", country);
        model.addAttribute("typedEmail", email);
        model.addAttribute("typedPerson", person);
        model.addAttribute("organisations", organisations.list(SliceRequest.first()));
        return "account/organisations";
    }

    @GetMapping("/operator/health")
    String health(Model model) {
        model.addAttribute("health", organisations.health());
        return "account/health";
    }
}
