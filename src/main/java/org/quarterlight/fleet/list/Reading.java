package org.quarterlight.fleet.list;

import java.time.LocalDate;

/**
 * What a list cannot say of itself.
 *
 * @param maxBytes a larger file is refused
 * @param dateHabit decides dates that may be read both ways, where no value of the list does
 * @param today no vehicle is registered and no glass fitted later than this
 */
public record Reading(long maxBytes, DateOrder dateHabit, LocalDate today) {}
