package org.quarterlight.glass;

/** A length and its one standard uncertainty, which never travel apart. */
public record Measured(double mm, double standardUncertaintyMm) {
    public Measured {
        if (!Double.isFinite(mm) || !(standardUncertaintyMm >= 0) || !Double.isFinite(standardUncertaintyMm)) {
            throw new IllegalArgumentException("not a measured length: " + mm + " ± " + standardUncertaintyMm);
        }
    }
}
