package org.quarterlight.damage;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.SheetReference;
import org.quarterlight.kernel.Money;

/**
 * What a sheet would make of the fleet's open damages.
 *
 * @param replaces the sheet in whose place it stands, null where it stands beside the others
 * @param total windscreens with something open
 * @param cells how many damages go from which outcome to which; those without a damage are left out, and in a list all
 * @param standDowns null in a list, where nobody has counted them
 * @param cost null in a list, and where the fleet has neither said what repairs cost nor agreed on prices
 */
public record PreviewView(
        UUID id,
        SheetReference sheet,
        @Nullable Replaced replaces,
        PreviewState state,
        int total,
        int done,
        List<Cell> cells,
        @Nullable StandDowns standDowns,
        @Nullable Cost cost,
        String madeBy,
        Instant madeAt,
        @Nullable Instant endedAt) {
    public PreviewView {
        cells = List.copyOf(cells);
    }

    /** The sheet in whose place another is tried. */
    public record Replaced(String id, String name) {}

    /** Damages that go from one outcome to another. */
    public record Cell(Outcome from, Outcome to, int damages) {}

    /**
     * Vehicles that stand down under one of the two and not under the other, by the verdicts of their damages.
     *
     * @param released those that no verdict would stand down any more; somebody still has to clear them
     */
    public record StandDowns(int stoodDown, int released) {}

    /**
     * What the repairs and replacements come to under the present rules and under the sheet.
     *
     * @param agreedWith the repairer whose agreed prices they are reckoned by; null where the fleet has said what they cost
     */
    public record Cost(
            Money present,
            Money proposed,
            Money difference,
            @Nullable String agreedWith) {}

    /** How many go from this outcome to that. */
    public int damages(Outcome from, Outcome to) {
        return cells.stream()
                .filter(cell -> cell.from() == from && cell.to() == to)
                .mapToInt(Cell::damages)
                .sum();
    }

    /** How many have another outcome than now. */
    public int changed() {
        return cells.stream()
                .filter(cell -> cell.from() != cell.to())
                .mapToInt(Cell::damages)
                .sum();
    }

    public int judged() {
        return cells.stream().mapToInt(Cell::damages).sum();
    }
}
