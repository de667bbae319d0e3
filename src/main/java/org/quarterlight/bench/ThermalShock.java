package org.quarterlight.bench;

/**
 * The stress in glass of which a part is warmer than the rest and held by it: σ = E·α·ΔT/(1 − ν), the fully restrained
 * case. E 70 GPa, ν 0.20, α 9·10⁻⁶ 1/K and 45 MPa of characteristic bending strength are those of EN 572-1 (secondary).
 */
public final class ThermalShock {
    /** Of annealed glass without damage; a break has less. */
    public static final double CHARACTERISTIC_STRENGTH_MPA = 45;

    /** What annealed float is generally allowed; depends on its edges (EN 572-1 and glazing practice, from memory). */
    public static final double ALLOWED_DIFFERENCE_K = 40;

    private static final double YOUNGS_MODULUS_MPA = 70_000;
    private static final double POISSONS_RATIO = 0.20;
    private static final double EXPANSION_PER_K = 9e-6;

    private ThermalShock() {}

    /** Of a temperature difference in K, whichever side is warmer. */
    public static double stressMpa(double differenceK) {
        return YOUNGS_MODULUS_MPA * EXPANSION_PER_K * Math.abs(differenceK) / (1 - POISSONS_RATIO);
    }
}
