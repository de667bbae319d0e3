package org.quarterlight.rulebook;

import java.util.List;
import java.util.Map;
import org.quarterlight.eligibility.Choices;
import org.quarterlight.glass.VehicleCategory;

/**
 * What an organisation judges by.
 *
 * @param sheets the ids of the sheets chosen for a category; a category that is not here starts with those of the
 *     depot's country
 */
public record ChosenRules(Map<VehicleCategory, List<String>> sheets, Choices choices, int version) {
    public ChosenRules {
        sheets = Map.copyOf(sheets);
    }
}
