package org.quarterlight.web;

import java.util.List;

/**
 * What stands in the header of a signed-in person's page, as the model attribute {@code header}. The pattern, 1 to 8, is
 * the organisation's stripes.
 */
public record PageHeader(
        String organisation,
        int pattern,
        String roleWords,
        String personName,
        List<MenuItem> menu,
        List<Membership> memberships) {
    public PageHeader {
        menu = List.copyOf(menu);
        memberships = List.copyOf(memberships);
    }
}
