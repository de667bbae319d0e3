package org.quarterlight.fleet.web;

import java.util.Locale;
import java.util.Map;
import org.quarterlight.web.PdfPages;
import org.quarterlight.web.QrPicture;
import org.springframework.stereotype.Component;

/** The card that hangs in a cab: how to report damage, the plate, and the code to open with a phone's own camera. */
@Component
class CabCard {
    private final PdfPages pages;

    CabCard(PdfPages pages) {
        this.pages = pages;
    }

    /** How large the card is. */
    enum Paper {
        A6,
        A4
    }

    byte[] pdf(String registration, String organisation, String address, Paper paper) {
        return pages.draw(
                "fleet/cab-card",
                Map.of(
                        "registration",
                        registration,
                        "organisation",
                        organisation,
                        "code",
                        QrPicture.svg(address, "Code for " + registration.toUpperCase(Locale.ROOT)),
                        "paper",
                        paper.name()));
    }
}
