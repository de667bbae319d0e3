package org.quarterlight.glass;

/** Vehicle categories of UNECE R.E.3: M carries people, N carries goods. */
public enum VehicleCategory {
    /** Up to eight seats beside the driver's. */
    M1,
    /** More seats, up to 5 t. */
    M2,
    /** More seats, over 5 t. */
    M3,
    /** Up to 3.5 t. */
    N1,
    /** Over 3.5 t, up to 12 t. */
    N2,
    /** Over 12 t. */
    N3
}
