package org.quarterlight.web;

import java.util.Map;
import org.quarterlight.tenancy.Acting;

/** How much work waits behind the words of the menu; implemented above, by the module that can see it all. */
public interface HeaderCounts {
    /** By address of the menu entry; an entry without a count is left out. */
    Map<String, Integer> of(Acting acting);
}
