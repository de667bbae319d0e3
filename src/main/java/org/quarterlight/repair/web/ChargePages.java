package org.quarterlight.repair.web;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.Partners;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Reason;
import org.quarterlight.repair.ChangeInvoice;
import org.quarterlight.repair.ChargeFilter;
import org.quarterlight.repair.Charges;
import org.quarterlight.repair.InvoiceCharges;
import org.quarterlight.repair.Payer;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.repair.SayPayer;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
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

/** The list to invoice from, and who pays for a job. */
@Controller
class ChargePages {
    private final Charges charges;
    private final RepairJobs jobs;
    private final Partners partners;

    ChargePages(Charges charges, RepairJobs jobs, Partners partners) {
        this.charges = charges;
        this.jobs = jobs;
        this.partners = partners;
    }

    @GetMapping("/charges")
    String list(
            @RequestParam(required = false) @Nullable UUID fleet,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            @RequestParam(required = false) @Nullable Payer payer,
            @RequestParam(required = false) @Nullable Boolean invoiced,
            SliceRequest wanted,
            Model model) {
        var acting = Acting.require();
        var repairer = acting.kind() == OrganisationKind.REPAIRER;
        var filter = new ChargeFilter(fleet, from, to, payer, invoiced);
        model.addAttribute("filter", filter);
        model.addAttribute("charges", charges.list(filter, wanted));
        model.addAttribute("totals", charges.totals(filter));
        model.addAttribute("repairer", repairer);
        model.addAttribute("invoices", repairer && acting.isAny(Role.DISPATCHER, Role.ADMINISTRATOR));
        model.addAttribute(
                "partners", repairer ? partners.list(null, SliceRequest.most()).items() : List.of());
        model.addAttribute("payers", Payer.values());
        return "repair/charges";
    }

    @PostMapping("/charges/invoice")
    @ShownOn("/charges")
    String invoice(
            @RequestParam(defaultValue = "") List<UUID> charge,
            @RequestParam(defaultValue = "") String number,
            RedirectAttributes after) {
        if (charge.isEmpty()) {
            throw new Invalid("charge", "Tick what went into the invoice");
        }
        if (number.isBlank()) {
            throw new Invalid("number", "Give the number of the invoice");
        }
        var invoiced = charges.invoice(new InvoiceCharges(number, charge));
        after.addFlashAttribute("notice", Notice.done(invoiced.size() + " on invoice " + number.trim() + "."));
        return "redirect:/charges?invoiced=false";
    }

    /** The invoice that a charge is on. */
    @GetMapping("/charges/{id}/invoice")
    String invoice(@PathVariable UUID id, Model model) {
        var acting = Acting.require();
        var invoice = charges.invoiceOf(id);
        var repairer = acting.kind() == OrganisationKind.REPAIRER;
        model.addAttribute("charge", id);
        model.addAttribute("invoice", invoice);
        model.addAttribute("repairer", repairer);
        model.addAttribute("invoices", repairer && acting.isAny(Role.DISPATCHER, Role.ADMINISTRATOR));
        return "repair/invoice";
    }

    @PostMapping("/charges/{id}/invoice/correct")
    @ShownOn("/charges/{id}/invoice")
    String correct(
            @PathVariable UUID id,
            @RequestParam String number,
            @RequestParam(defaultValue = "") String newNumber,
            @RequestParam(defaultValue = "") String reason,
            RedirectAttributes after) {
        if (newNumber.isBlank()) {
            throw new Invalid("newNumber", "Give the number that it should have");
        }
        charges.changeInvoice(new ChangeInvoice(number, newNumber, Reason.given(reason)));
        after.addFlashAttribute("notice", Notice.done("Invoice " + number + " is " + newNumber.trim() + "."));
        return "redirect:/charges/" + id + "/invoice";
    }

    @PostMapping("/charges/{id}/invoice/release")
    @ShownOn("/charges/{id}/invoice")
    String release(
            @PathVariable UUID id,
            @RequestParam String number,
            @RequestParam(defaultValue = "") String reason,
            RedirectAttributes after) {
        var released = charges.changeInvoice(new ChangeInvoice(number, null, Reason.given(reason)));
        after.addFlashAttribute("notice", Notice.done(released.size() + " taken off invoice " + number + "."));
        return "redirect:/charges?invoiced=false";
    }

    @GetMapping({"/charges/{id}/invoice/correct", "/charges/{id}/invoice/release"})
    String backToInvoice(@PathVariable UUID id) {
        return "redirect:/charges/" + id + "/invoice";
    }

    /** Invoices whose number was corrected, or that were taken apart. */
    @GetMapping("/charges/corrections")
    String corrections(SliceRequest wanted, Model model) {
        model.addAttribute("changes", charges.invoiceChanges(wanted));
        model.addAttribute("repairer", Acting.require().kind() == OrganisationKind.REPAIRER);
        return "repair/corrections";
    }

    @PostMapping("/charges/{id}/price")
    @ShownOn("/charges")
    String price(@PathVariable UUID id, RedirectAttributes after) {
        var priced = charges.price(id);
        after.addFlashAttribute("notice", Notice.done("Job " + priced.jobNumber() + " costs " + priced.total() + "."));
        return "redirect:/charges?invoiced=false";
    }

    @GetMapping({"/charges/invoice", "/charges/{id}/price"})
    String back() {
        return "redirect:/charges";
    }

    @PostMapping("/jobs/{id}/payer")
    @ShownOn("/jobs/{id}")
    String payer(
            @PathVariable UUID id,
            @RequestParam Payer payer,
            @RequestParam(required = false) @Nullable String claimReference,
            @RequestParam(required = false) @Nullable String reason,
            RedirectAttributes after) {
        jobs.payer(id, new SayPayer(payer, claimReference, reason));
        after.addFlashAttribute("notice", Notice.done("Kept."));
        return "redirect:/jobs/" + id;
    }
}
