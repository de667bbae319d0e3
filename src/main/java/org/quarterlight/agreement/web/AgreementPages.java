package org.quarterlight.agreement.web;

import java.time.LocalDate;
import java.util.Currency;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.PartnerState;
import org.quarterlight.account.Partners;
import org.quarterlight.agreement.PartnerLimits;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.agreement.SaveLimits;
import org.quarterlight.agreement.SavePrices;
import org.quarterlight.fleet.Depots;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Money;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.Notice;
import org.quarterlight.web.ShownOn;
import org.quarterlight.web.SliceRequest;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** One partnership: what is given, and what it costs. */
@Controller
class AgreementPages {
    private final Partners partners;
    private final PartnerLimits limits;
    private final PriceAgreements prices;
    private final Depots depots;

    AgreementPages(Partners partners, PartnerLimits limits, PriceAgreements prices, Depots depots) {
        this.partners = partners;
        this.limits = limits;
        this.prices = prices;
        this.depots = depots;
    }

    @GetMapping("/partners/{id}")
    String partner(@PathVariable UUID id, SliceRequest wanted, Model model) {
        var acting = Acting.require();
        var partner = partners.partner(id);
        var owns = partner.fleet().equals(acting.organisation().value());
        model.addAttribute("partner", partner);
        model.addAttribute("owns", owns);
        model.addAttribute("sets", owns && acting.isAny(Role.MANAGER, Role.ADMINISTRATOR));
        model.addAttribute(
                "speaks",
                partner.state() != PartnerState.ENDED
                        && acting.isAny(Role.ADMINISTRATOR, owns ? Role.MANAGER : Role.DISPATCHER));
        model.addAttribute("limits", limits.limits(id));
        model.addAttribute("prices", prices.list(id, wanted));
        model.addAttribute("depots", owns ? depots.all() : List.of());
        return "agreement/partner";
    }

    /** No depot ticked means all of them. */
    @PostMapping("/partners/{id}/limits")
    @ShownOn("/partners/{id}")
    String limit(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") List<UUID> depots,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable
                    LocalDate worksFrom,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable
                    LocalDate worksUntil,
            @RequestParam(defaultValue = "false") boolean agreedPricesOnly,
            @RequestParam int version,
            RedirectAttributes after) {
        limits.change(
                id, new SaveLimits(depots.isEmpty() ? null : depots, worksFrom, worksUntil, agreedPricesOnly), version);
        after.addFlashAttribute("notice", Notice.done("Kept. It counts for what is shared from now on."));
        return "redirect:/partners/" + id;
    }

    @PostMapping("/partners/{id}/prices")
    @ShownOn("/partners/{id}")
    String propose(
            @PathVariable UUID id,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable
                    LocalDate validFrom,
            @RequestParam(defaultValue = "") String currency,
            @RequestParam(defaultValue = "") String repair,
            @RequestParam(defaultValue = "") String further,
            @RequestParam(defaultValue = "") String callOut,
            @RequestParam(defaultValue = "") String replacement,
            @RequestParam(required = false) @Nullable Integer warrantyMonths,
            RedirectAttributes after) {
        if (validFrom == null) {
            throw new Invalid("validFrom", "Say from which day");
        }
        var code = Money.currency("currency", currency.toUpperCase(Locale.ROOT));
        prices.propose(
                id,
                new SavePrices(
                        validFrom,
                        code.getCurrencyCode(),
                        amount("repair", repair, code),
                        amount("further", further, code),
                        amount("callOut", callOut, code),
                        replacement.isBlank() ? null : amount("replacement", replacement, code),
                        warrantyMonths));
        after.addFlashAttribute("notice", Notice.done("Proposed. They hold once the other side has accepted."));
        return "redirect:/partners/" + id;
    }

    @PostMapping("/partners/{id}/prices/{prices}/accept")
    @ShownOn("/partners/{id}")
    String accept(@PathVariable UUID id, @PathVariable("prices") UUID proposed, RedirectAttributes after) {
        prices.accept(id, proposed);
        after.addFlashAttribute("notice", Notice.done("Accepted. Both of you see it here."));
        return "redirect:/partners/" + id;
    }

    @PostMapping("/partners/{id}/prices/{prices}/decline")
    @ShownOn("/partners/{id}")
    String decline(
            @PathVariable UUID id,
            @PathVariable("prices") UUID proposed,
            @RequestParam(defaultValue = "") String reason,
            RedirectAttributes after) {
        prices.decline(id, proposed, reason);
        after.addFlashAttribute("notice", Notice.done("Declined. The other side sees why."));
        return "redirect:/partners/" + id;
    }

    @PostMapping("/partners/{id}/prices/{prices}/withdraw")
    @ShownOn("/partners/{id}")
    String withdraw(@PathVariable UUID id, @PathVariable("prices") UUID proposed, RedirectAttributes after) {
        prices.withdraw(id, proposed);
        after.addFlashAttribute("notice", Notice.done("Taken back."));
        return "redirect:/partners/" + id;
    }

    /** A refused form of this page is shown at its own address; loaded again, it leads back. */
    @GetMapping({
        "/partners/{id}/limits",
        "/partners/{id}/prices",
        "/partners/{id}/prices/{prices}/accept",
        "/partners/{id}/prices/{prices}/decline",
        "/partners/{id}/prices/{prices}/withdraw"
    })
    String back(@PathVariable UUID id) {
        return "redirect:/partners/" + id;
    }

    private static long amount(String field, String typed, Currency currency) {
        var amount = Money.typed(field, typed, currency).amountMinor();
        if (amount > 100_000_000) {
            throw new Invalid(field, "At most " + new Money(100_000_000, currency.getCurrencyCode()));
        }
        return amount;
    }
}
