package org.quarterlight.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.Memberships;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.annotation.Autowired;

/** Who is in an organisation, and who comes back. */
@QuarterlightTest
class MembersTests {
    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private People people;

    @Autowired
    private Memberships memberships;

    @Test
    void whoWasLetGoIsTakenInAgainWithNewRoles() {
        var fleet = organisations.fleet();
        var driver = member(fleet, Role.DRIVER);
        as(fleet, () -> {
            people.remove(driver.person(), driver.version());
            return true;
        });
        assertThat(memberships.acting(driver.person(), fleet.tenant())).isEmpty();

        var again = as(
                fleet,
                () -> people.add(
                        new AddMember(driver.email(), "Another spelling", Set.of(Role.MANAGER), "a first password")));

        assertThat(again.person()).isEqualTo(driver.person());
        assertThat(again.roles()).containsExactly(Role.MANAGER);
        assertThat(again.version()).isGreaterThan(driver.version());
        assertThat(memberships.acting(driver.person(), fleet.tenant()).map(Acting::roles))
                .contains(Set.of(Role.MANAGER));
    }

    @Test
    void whoIsInStaysAsTheyAre() {
        var fleet = organisations.fleet();
        var driver = member(fleet, Role.DRIVER);
        assertThatThrownBy(() -> as(
                        fleet,
                        () -> people.add(new AddMember(
                                driver.email(), "Driver", Set.of(Role.ADMINISTRATOR), "a first password"))))
                .isInstanceOf(Invalid.class);
        assertThat(member(fleet, Role.DRIVER)).isEqualTo(driver);
    }

    private Member member(TestOrganisation fleet, Role role) {
        UUID person = Objects.requireNonNull(fleet.person(role).person());
        return as(fleet, () -> people.list(new SliceRequest(SliceRequest.MOST, null))).items().stream()
                .filter(member -> member.person().equals(person))
                .findFirst()
                .orElseThrow();
    }

    private static <T> T as(TestOrganisation fleet, java.util.function.Supplier<T> work) {
        return TestOrganisations.as(fleet, Role.ADMINISTRATOR, work);
    }
}
