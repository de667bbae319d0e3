package org.quarterlight.web;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;

/** What each role comes here to do, in the words of its work. Somebody with several roles sees all of it, each once. */
final class Menu {
    private record Entry(String label, String href) {}

    /** Of an organisation's own vehicles, so none for those who have none. */
    private static final Entry INSPECTIONS = new Entry("Inspections", "/inspections");

    /** Of those who work for others. */
    private static final Entry TO_INVOICE = new Entry("To invoice", "/charges");

    private static final Map<Role, List<Entry>> BY_ROLE = Map.of(
            Role.MANAGER,
            List.of(
                    new Entry("Now", "/"),
                    new Entry("Decide", "/damages?needs=decision"),
                    new Entry("Repairs in hand", "/jobs?state=open"),
                    new Entry("Vehicles", "/vehicles"),
                    INSPECTIONS,
                    new Entry("Rules", "/rule-sheets"),
                    new Entry("Partners", "/partners"),
                    new Entry("Costs", "/charges")),
            Role.DRIVER,
            List.of(new Entry("Report damage", "/report"), new Entry("My reports", "/damages?mine=true")),
            Role.TECHNICIAN,
            List.of(
                    new Entry("Today", "/"),
                    new Entry("This job", "/jobs/run"),
                    INSPECTIONS,
                    new Entry("Stock", "/stock"),
                    new Entry("Done", "/jobs?mine=true&state=closed")),
            Role.DISPATCHER,
            List.of(
                    new Entry("Day board", "/days/today"),
                    new Entry("Not placed", "/jobs?state=approved"),
                    new Entry("Running late", "/days/today?late"),
                    new Entry("Vans and shifts", "/vans"),
                    new Entry("Stock", "/stock"),
                    new Entry("Fleets", "/partners"),
                    TO_INVOICE),
            Role.ADMINISTRATOR,
            List.of(
                    new Entry("People", "/settings/people"),
                    new Entry("Keys", "/settings/keys"),
                    new Entry("Partners", "/partners"),
                    TO_INVOICE,
                    new Entry("Settings", "/settings"),
                    new Entry("History", "/history")),
            Role.OPERATOR,
            List.of(
                    new Entry("Organisations", "/operator/organisations"),
                    new Entry("Signing keys", "/operator/signing-keys"),
                    new Entry("Health", "/operator/health")));

    /** The order in which the roles' jobs stand. */
    private static final List<Role> ORDER =
            List.of(Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN, Role.DRIVER, Role.ADMINISTRATOR, Role.OPERATOR);

    /** The board of any day belongs to the words that lead to today's. */
    private static final String ANY_DAY = "/days/[^/]+";

    private Menu() {}

    static List<MenuItem> of(Acting acting, Map<String, Integer> counts, String path, String query) {
        var entries = new LinkedHashMap<String, Entry>();
        for (var role : ORDER) {
            if (acting.is(role)) {
                BY_ROLE.getOrDefault(role, List.of()).stream()
                        .filter(entry -> entry != INSPECTIONS || acting.kind() == OrganisationKind.FLEET)
                        .filter(entry -> entry != TO_INVOICE || acting.kind() == OrganisationKind.REPAIRER)
                        .forEach(entry -> entries.putIfAbsent(entry.href(), entry));
            }
        }
        var place = path.matches(ANY_DAY) ? "/days/today" : path;
        var here = query.isEmpty() ? place : place + "?" + query;
        var exact = entries.containsKey(here)
                ? here
                : best(entries.keySet().stream().toList(), place, here);
        var items = new ArrayList<MenuItem>();
        entries.values()
                .forEach(entry -> items.add(new MenuItem(
                        entry.label(),
                        entry.href(),
                        counts.get(entry.href()),
                        entry.href().equals(exact))));
        return items;
    }

    static String words(Acting acting) {
        return ORDER.stream()
                .filter(acting::is)
                .map(role -> switch (role) {
                    case MANAGER -> "fleet manager";
                    case DISPATCHER -> "dispatcher";
                    case TECHNICIAN -> "technician";
                    case DRIVER -> "driver";
                    case ADMINISTRATOR -> "administrator";
                    case OPERATOR -> "operator";
                    case CAB_CODE -> "cab code";
                })
                .reduce((one, other) -> one + ", " + other)
                .orElse("");
    }

    /** The entry whose address is the longest beginning of the present one, by whole steps of the path. */
    private static String best(List<String> hrefs, String path, String here) {
        return hrefs.stream()
                .filter(href -> !href.equals("/"))
                .filter(href ->
                        href.contains("?") ? here.startsWith(href) : path.equals(href) || path.startsWith(href + "/"))
                .max(java.util.Comparator.comparingInt(String::length))
                .orElse("");
    }
}
