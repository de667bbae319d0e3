package org.quarterlight.kernel;

/** An amount in the smallest unit of its currency, ISO 4217. */
public record Money(long amountMinor, String currency) {}
