package org.quarterlight.repair;

/** Where material lies. */
public enum StockPlaceKind {
    STORE,
    VAN
}
