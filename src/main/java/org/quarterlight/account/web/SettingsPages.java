package org.quarterlight.account.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.ConstraintViolationException;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.AddMember;
import org.quarterlight.account.ChangeOrganisation;
import org.quarterlight.account.CreateToken;
import org.quarterlight.account.InvitePartner;
import org.quarterlight.account.Organisations;
import org.quarterlight.account.Partners;
import org.quarterlight.account.People;
import org.quarterlight.account.Tokens;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.HoldsSecret;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.CacheControl;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What an administrator keeps: people, keys, partners, and the organisation's name and sign. */
@Controller
class SettingsPages {
    private static final Map<String, String> LABELS =
            Map.of("email", "E-mail", "name", "Name", "roles", "Roles", "password", "First password");

    private final Organisations organisations;
    private final People people;
    private final Tokens tokens;
    private final Partners partners;

    SettingsPages(Organisations organisations, People people, Tokens tokens, Partners partners) {
        this.organisations = organisations;
        this.people = people;
        this.tokens = tokens;
        this.partners = partners;
    }

    @GetMapping("/settings")
    String settings(Model model) {
        model.addAttribute("organisation", organisations.present());
        return "account/settings";
    }

    @PostMapping("/settings")
    String change(
            @RequestParam String name, @RequestParam int pattern, @RequestParam int version, RedirectAttributes after) {
        organisations.change(new ChangeOrganisation(name, pattern), version);
        after.addFlashAttribute("notice", Notice.done("Kept."));
        return "redirect:/settings";
    }

    @GetMapping("/settings/people")
    String people(SliceRequest wanted, Model model) {
        showPeople(wanted, model);
        return "account/people";
    }

    /** What was typed stays where something is wrong with it; the password is typed again. */
    @PostMapping("/settings/people")
    String add(
            @RequestParam(defaultValue = "") String email,
            @RequestParam(defaultValue = "") String name,
            @RequestParam(required = false) @Nullable Set<Role> roles,
            @RequestParam(required = false) @Nullable String password,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        try {
            var member = people.add(new AddMember(
                    email,
                    name,
                    roles == null ? Set.of() : roles,
                    password == null || password.isBlank() ? null : password));
            after.addFlashAttribute("notice", Notice.done(member.email() + " is invited."));
            return "redirect:/settings/people";
        } catch (Invalid e) {
            model.addAttribute("problem", e.problem());
        } catch (ConstraintViolationException e) {
            model.addAttribute("problem", FormProblems.of(e, LABELS));
        }
        response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        model.addAttribute("email", email);
        model.addAttribute("name", name);
        showPeople(SliceRequest.first(), model);
        return "account/people";
    }

    @PostMapping("/settings/people/{id}")
    String changeRoles(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable Set<Role> roles,
            @RequestParam int version,
            RedirectAttributes after) {
        var member = people.changeRoles(id, roles == null ? Set.of() : roles, version);
        after.addFlashAttribute("notice", Notice.done("Roles of " + member.name() + " are kept."));
        return "redirect:/settings/people";
    }

    @PostMapping("/settings/people/{id}/remove")
    String remove(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        people.remove(id, version);
        after.addFlashAttribute("notice", Notice.done("Gone, with all keys. What they did keeps their name."));
        return "redirect:/settings/people";
    }

    @GetMapping("/settings/keys")
    String keys(SliceRequest wanted, Model model) {
        model.addAttribute("tokens", tokens.list(wanted));
        return "account/keys";
    }

    /** The secret is shown on the very answer, once, and by nobody kept. */
    @PostMapping("/settings/keys")
    @HoldsSecret
    String makeKey(
            @RequestParam(defaultValue = "") String name,
            @RequestParam(required = false) @Nullable Integer expiresInDays,
            Model model,
            HttpServletResponse response) {
        response.setHeader(HttpHeaders.CACHE_CONTROL, CacheControl.noStore().getHeaderValue());
        if (name.isBlank()) {
            model.addAttribute("problem", "Give the key a name, so that you know it again.");
            response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        } else {
            model.addAttribute("made", tokens.create(new CreateToken(name, expiresInDays, null)));
        }
        model.addAttribute("tokens", tokens.list(SliceRequest.first()));
        return "account/keys";
    }

    @PostMapping("/settings/keys/{id}/revoke")
    String revoke(@PathVariable UUID id, RedirectAttributes after) {
        tokens.revoke(id);
        after.addFlashAttribute("notice", Notice.done("The key opens nothing any more."));
        return "redirect:/settings/keys";
    }

    @GetMapping("/partners")
    String partners(SliceRequest wanted, Model model) {
        model.addAttribute("partners", partners.list(null, wanted));
        model.addAttribute("organisation", organisations.present());
        return "account/partners";
    }

    @PostMapping("/partners")
    String invite(
            @RequestParam UUID repairer, @RequestParam(defaultValue = "") String terms, RedirectAttributes after) {
        var partner = partners.invite(new InvitePartner(repairer, terms));
        after.addFlashAttribute(
                "notice", Notice.done(partner.repairerName() + " is invited. They accept on their side."));
        return "redirect:/partners";
    }

    @PostMapping("/partners/{id}/accept")
    String accept(@PathVariable UUID id, RedirectAttributes after) {
        var partner = partners.accept(id);
        after.addFlashAttribute("notice", Notice.done("You work for " + partner.fleetName() + " now."));
        return "redirect:/partners";
    }

    @PostMapping("/partners/{id}/withdraw")
    String withdraw(@PathVariable UUID id, RedirectAttributes after) {
        partners.withdraw(id);
        after.addFlashAttribute(
                "notice",
                Notice.done("Ended. What was not begun goes back to the fleet; closed work stays with both."));
        return "redirect:/partners";
    }

    private void showPeople(SliceRequest wanted, Model model) {
        model.addAttribute("people", people.list(wanted));
        model.addAttribute("possible", possible());
    }

    private static List<Role> possible() {
        var kind = Acting.require().kind();
        return Arrays.stream(Role.values())
                .filter(People.rolesIn(kind)::contains)
                .toList();
    }
}
