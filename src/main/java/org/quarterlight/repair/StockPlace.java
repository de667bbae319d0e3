package org.quarterlight.repair;

import java.util.UUID;

/** A store or a van that material lies in. */
public record StockPlace(UUID id, String name, StockPlaceKind kind, boolean retired, int version) {}
