package org.quarterlight.repair.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import java.io.IOException;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.repair.ChangeInvoice;
import org.quarterlight.repair.ChargeFilter;
import org.quarterlight.repair.ChargeTotal;
import org.quarterlight.repair.ChargeView;
import org.quarterlight.repair.Charges;
import org.quarterlight.repair.InvoiceChangeView;
import org.quarterlight.repair.InvoiceCharges;
import org.quarterlight.repair.InvoiceView;
import org.quarterlight.repair.Payer;
import org.quarterlight.web.CsvFile;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** What jobs cost, to invoice from. The performer and the fleet see the same, each its own. */
@RestController
@RequestMapping("/api/v1/charges")
class ChargeApi {
    private final Charges charges;

    ChargeApi(Charges charges) {
        this.charges = charges;
    }

    @GetMapping
    Slice<ChargeView> list(
            @RequestParam(required = false) @Nullable UUID fleet,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            @RequestParam(required = false) @Nullable Payer payer,
            @RequestParam(required = false) @Nullable Boolean invoiced,
            SliceRequest wanted) {
        return charges.list(new ChargeFilter(fleet, from, to, payer, invoiced), wanted);
    }

    /** What the same list comes to, by currency. A total of null is of work without an agreed price. */
    @GetMapping("/totals")
    Slice<ChargeTotal> totals(
            @RequestParam(required = false) @Nullable UUID fleet,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            @RequestParam(required = false) @Nullable Payer payer,
            @RequestParam(required = false) @Nullable Boolean invoiced) {
        return new Slice<>(charges.totals(new ChargeFilter(fleet, from, to, payer, invoiced)), null);
    }

    /** The same list as CSV, for a spreadsheet. */
    @GetMapping(path = "/export", produces = "text/csv")
    void export(
            @RequestParam(required = false) @Nullable UUID fleet,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            @RequestParam(required = false) @Nullable Payer payer,
            @RequestParam(required = false) @Nullable Boolean invoiced,
            @RequestParam(required = false) CsvFile.@Nullable Separator separator,
            HttpServletResponse response)
            throws IOException {
        charges.write(
                new ChargeFilter(fleet, from, to, payer, invoiced),
                () -> {
                    response.setContentType("text/csv;charset=UTF-8");
                    response.setHeader(
                            HttpHeaders.CONTENT_DISPOSITION,
                            ContentDisposition.attachment()
                                    .filename("charges.csv")
                                    .build()
                                    .toString());
                    return response.getOutputStream();
                },
                CsvFile.Separator.of(separator));
    }

    /** These went into an invoice: all of them, or none where one has been invoiced before. */
    @PostMapping("/invoice")
    Slice<ChargeView> invoice(@Valid @RequestBody InvoiceCharges command) {
        return new Slice<>(charges.invoice(command), null);
    }

    /** What had no price costs what prices say that were accepted since and reach back to its day. Once. */
    @PostMapping("/{id}/price")
    ChargeView price(@PathVariable UUID id) {
        return charges.price(id);
    }

    /** The number of an invoice was wrong; without a new one its charges are released. For all of them together. */
    @PostMapping("/invoice/change")
    Slice<ChargeView> change(@Valid @RequestBody ChangeInvoice command) {
        return new Slice<>(charges.changeInvoice(command), null);
    }

    /** Invoices that were corrected or taken apart, the last first. */
    @GetMapping("/invoice-changes")
    Slice<InvoiceChangeView> changes(SliceRequest wanted) {
        return charges.invoiceChanges(wanted);
    }

    /** All that is on the same invoice as this charge, and what its number was. */
    @GetMapping("/{id}/invoice")
    InvoiceView invoiceOf(@PathVariable UUID id) {
        return charges.invoiceOf(id);
    }
}
