package org.quarterlight.glass;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** A length and its one standard uncertainty, which never travel apart. */
public record Measured(double mm, double standardUncertaintyMm) {
    public Measured {
        if (!Double.isFinite(mm) || !(standardUncertaintyMm >= 0) || !Double.isFinite(standardUncertaintyMm)) {
            throw new IllegalArgumentException("not a measured length: " + mm + " ± " + standardUncertaintyMm);
        }
    }

    /** As people read it: {@code 24.6 ± 0.5}, no digit finer than the uncertainty's first, a true minus. */
    public String text() {
        if (standardUncertaintyMm == 0) {
            return plain(mm, 1);
        }
        var digits = digits(standardUncertaintyMm);
        // 0.96 becomes 1, which has one digit fewer
        digits = digits(Double.parseDouble(rounded(standardUncertaintyMm, digits)));
        return plain(mm, digits) + " ± " + rounded(standardUncertaintyMm, digits);
    }

    private static int digits(double uncertainty) {
        return Math.max(0, -(int) Math.floor(Math.log10(uncertainty) + 1e-9));
    }

    private static String plain(double value, int digits) {
        var text = rounded(Math.abs(value), digits);
        return value < 0 && Double.parseDouble(text) != 0 ? "−" + text : text;
    }

    private static String rounded(double value, int digits) {
        return BigDecimal.valueOf(value).setScale(digits, RoundingMode.HALF_UP).toPlainString();
    }
}
