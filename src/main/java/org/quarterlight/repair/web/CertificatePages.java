package org.quarterlight.repair.web;

import jakarta.servlet.http.HttpServletRequest;
import org.quarterlight.repair.Certificates;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestParam;

/** Where the code on a certificate leads: whoever holds one sees whether it is ours, and nothing else. No account needed. */
@Controller
class CertificatePages {
    private final Certificates certificates;

    CertificatePages(Certificates certificates) {
        this.certificates = certificates;
    }

    @GetMapping("/c/{seal}")
    String check(
            @PathVariable String seal,
            @RequestParam(defaultValue = "") String hash,
            HttpServletRequest request,
            Model model) {
        model.addAttribute("certificate", certificates.checked(seal, hash, request.getRemoteAddr()));
        model.addAttribute("seal", seal);
        model.addAttribute("hash", hash);
        return "repair/certificate";
    }
}
