package org.quarterlight.rulebook;

import java.util.List;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;

/** Who sees drafts of own sheets: who works with rules. Others know only what judges or will judge. */
final class SheetReaders {
    private SheetReaders() {}

    static List<OwnSheet> visible(List<OwnSheet> sheets) {
        return sheets.stream().filter(SheetReaders::maySee).toList();
    }

    /** The service itself, acting for nobody, sees all. */
    static boolean maySee(OwnSheet sheet) {
        return !sheet.draft()
                || Acting.current()
                        .map(acting -> acting.isAny(Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN))
                        .orElse(true);
    }
}
