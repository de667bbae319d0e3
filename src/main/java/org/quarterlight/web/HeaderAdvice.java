package org.quarterlight.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ModelAttribute;

/** Gives every page of a signed-in person its header; a piece of a page needs none. */
@ControllerAdvice(annotations = Controller.class)
class HeaderAdvice {
    private final Memberships memberships;
    private final ObjectProvider<HeaderCounts> counts;

    HeaderAdvice(Memberships memberships, ObjectProvider<HeaderCounts> counts) {
        this.memberships = memberships;
        this.counts = counts;
    }

    /** Who looks, for what a page offers only to some; the service checks it again. */
    @ModelAttribute("acting")
    @Nullable
    Acting acting() {
        return Acting.current().orElse(null);
    }

    /** Named "address" in templates, for expressions in links may not ask beans. */
    @ModelAttribute("address")
    Address address(HttpServletRequest request) {
        return new Address(request);
    }

    /** Whom a device keeps this page for, so that its scripts know whose things they show; null where it keeps nothing. */
    @ModelAttribute("keptFor")
    @Nullable
    String keptFor() {
        var own = KeptFor.of(Acting.current().orElse(null));
        return KeptFor.NOBODY.equals(own) ? null : own;
    }

    @ModelAttribute("header")
    @Nullable
    PageHeader header(HttpServletRequest request) {
        var acting = Acting.current().orElse(null);
        if (acting == null
                || acting.is(Role.CAB_CODE)
                || acting.person() == null
                || request.getHeader("HX-Request") != null) {
            return null;
        }
        var waiting = counts.stream().findFirst().map(each -> each.of(acting)).orElse(Map.of());
        return new PageHeader(
                acting.organisationName(),
                acting.pattern(),
                Menu.words(acting),
                acting.name(),
                Menu.of(
                        acting,
                        waiting,
                        request.getRequestURI(),
                        Objects.requireNonNullElse(request.getQueryString(), "")),
                of(acting, memberships.of(Objects.requireNonNull(acting.person()))));
    }

    private static List<Membership> of(Acting present, List<Acting> all) {
        return all.stream()
                .map(each -> new Membership(
                        each.organisation().value(),
                        each.organisationName(),
                        each.pattern(),
                        Menu.words(each),
                        null,
                        each.organisation().equals(present.organisation())))
                .toList();
    }
}
