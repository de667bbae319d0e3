package org.quarterlight.agreement;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.time.LocalDate;
import java.util.UUID;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.account.PartnerNotFound;
import org.quarterlight.account.Partners;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.MediaType;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** Prices bind nobody who has not said yes to them. */
@QuarterlightTest
class PriceConsentTests {
    private static final LocalDate TODAY = LocalDate.now();

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private PriceAgreements prices;

    @Autowired
    private Partners partners;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    private TestOrganisation fleet;
    private TestOrganisation repairer;
    private UUID partner;

    @BeforeEach
    void aFleetAndItsRepairer() {
        fleet = organisations.fleet();
        repairer = organisations.repairer();
        organisations.join(fleet, repairer);
        partner = asFleet(() -> partners.list(null, SliceRequest.first()))
                .items()
                .getFirst()
                .id();
    }

    @Test
    void eitherSideProposesAndOnlyTheOtherAccepts() {
        var byRepairer = asRepairer(() -> prices.propose(partner, from(-30)));
        assertThat(byRepairer.state()).isEqualTo(PricesState.WAITING);
        assertThat(inForce()).isNull();
        assertThat(asFleet(prices::waiting)).singleElement().satisfies(waits -> {
            assertThat(waits.partner()).isEqualTo(partner);
            assertThat(waits.validFrom()).isEqualTo(TODAY.minusDays(30));
        });
        assertThat(asRepairer(prices::waiting)).isEmpty();
        assertThat(mvc.get()
                        .uri("/api/v1/partners/waiting-prices")
                        .header("Authorization", fleet.bearer(Role.MANAGER))
                        .exchange())
                .hasStatusOk()
                .bodyJson()
                .extractingPath("$.items[0].prices")
                .isEqualTo(byRepairer.id().toString());
        assertThatThrownBy(() -> asRepairer(() -> prices.accept(partner, byRepairer.id())))
                .isInstanceOf(Invalid.class);
        var accepted = asFleet(() -> prices.accept(partner, byRepairer.id()));
        assertThat(accepted.state()).isEqualTo(PricesState.ACCEPTED);
        assertThat(accepted.answeredBy()).isNotBlank();
        assertThat(accepted.answeredAt()).isNotNull();
        assertThat(accepted.inForce()).isTrue();
        assertThat(inForce()).isEqualTo(byRepairer.id());
        assertThat(asFleet(prices::waiting)).isEmpty();

        var byFleet = asFleet(() -> prices.propose(partner, from(3)));
        assertThatThrownBy(() -> asFleet(() -> prices.accept(partner, byFleet.id())))
                .isInstanceOf(Invalid.class);
        assertThat(asRepairer(() -> prices.accept(partner, byFleet.id())).state())
                .isEqualTo(PricesState.ACCEPTED);
    }

    @Test
    void declinedAndTakenBackPricesNeverHoldAndAreAnsweredOnce() {
        var declined = asFleet(() -> prices.propose(partner, from(-30)));
        assertThatThrownBy(() -> asRepairer(() -> prices.decline(partner, declined.id(), " ")))
                .isInstanceOfSatisfying(
                        Invalid.class, e -> assertThat(e.field()).isEqualTo("reason"));
        assertThatThrownBy(() -> asFleet(() -> prices.decline(partner, declined.id(), "no")))
                .isInstanceOf(Invalid.class);
        asRepairer(() -> prices.decline(partner, declined.id(), "call-out does not cover the way"));
        var page = asFleet(() -> prices.prices(partner, declined.id()));
        assertThat(page.state()).isEqualTo(PricesState.DECLINED);
        assertThat(page.reason()).isEqualTo("call-out does not cover the way");
        assertThatThrownBy(() -> asRepairer(() -> prices.accept(partner, declined.id())))
                .isInstanceOf(PricesAnswered.class);

        var withdrawn = asFleet(() -> prices.propose(partner, from(-20)));
        assertThatThrownBy(() -> asRepairer(() -> prices.withdraw(partner, withdrawn.id())))
                .isInstanceOf(Invalid.class);
        asFleet(() -> prices.withdraw(partner, withdrawn.id()));
        assertThatThrownBy(() -> asRepairer(() -> prices.accept(partner, withdrawn.id())))
                .isInstanceOf(PricesAnswered.class);
        assertThat(inForce()).isNull();
    }

    @Test
    void onlyTheFirstPricesReachBackAndThatIsAskedAgainWhenTheyAreAccepted() {
        var first = asFleet(() -> prices.propose(partner, from(-30)));
        var second = asFleet(() -> prices.propose(partner, from(-10)));
        asRepairer(() -> prices.accept(partner, first.id()));
        assertThatThrownBy(() -> asRepairer(() -> prices.accept(partner, second.id())))
                .hasMessageContaining("propose a later day");
        assertThatThrownBy(() -> asRepairer(() -> prices.propose(partner, from(0))))
                .isInstanceOfSatisfying(
                        Invalid.class, e -> assertThat(e.field()).isEqualTo("validFrom"));
        assertThat(inForce()).isEqualTo(first.id());
    }

    @Test
    void ofTwoForOneDayThoseAcceptedLaterCountAndAreMarked() {
        var one = asFleet(() -> prices.propose(partner, from(5)));
        var other = asFleet(() -> prices.propose(partner, from(5)));
        asRepairer(() -> prices.accept(partner, other.id()));
        asRepairer(() -> prices.accept(partner, one.id()));
        assertThat(asFleet(() -> prices.prices(partner, other.id())).overtaken())
                .isTrue();
        assertThat(asFleet(() -> prices.prices(partner, one.id())).overtaken()).isFalse();
        assertThat(asFleet(() -> prices.inForce(fleet.id(), repairer.id(), TODAY.plusDays(6)))
                        .orElseThrow()
                        .agreement())
                .isEqualTo(one.id());
        assertThat(page(fleet, Role.MANAGER))
                .contains("Does not count", TODAY.plusDays(5).getYear() + "");
    }

    @Test
    void whoDoesNotSpeakForTheirSideIsRefusedAndStrangersFindNothing() {
        var proposed = asFleet(() -> prices.propose(partner, from(5)));
        assertThatThrownBy(() -> TestOrganisations.as(fleet, Role.DISPATCHER, () -> prices.propose(partner, from(6))))
                .isInstanceOf(AccessDeniedException.class);
        assertThatThrownBy(() ->
                        TestOrganisations.as(repairer, Role.TECHNICIAN, () -> prices.accept(partner, proposed.id())))
                .isInstanceOf(AccessDeniedException.class);
        var other = organisations.repairer();
        organisations.join(fleet, other);
        assertThatThrownBy(
                        () -> TestOrganisations.as(other, Role.DISPATCHER, () -> prices.accept(partner, proposed.id())))
                .isInstanceOf(PartnerNotFound.class);
        var others = TestOrganisations.as(other, Role.DISPATCHER, () -> partners.list(null, SliceRequest.first()))
                .items()
                .getFirst()
                .id();
        assertThatThrownBy(
                        () -> TestOrganisations.as(other, Role.DISPATCHER, () -> prices.accept(others, proposed.id())))
                .isInstanceOf(PricesNotFound.class);
        // Past the service too: who proposed cannot accept.
        assertThatThrownBy(() -> Tenants.callAs(
                        fleet.tenant(),
                        () -> new TransactionTemplate(transactions)
                                .execute(status -> jdbc.sql("update price_agreement set answer = 'ACCEPTED',"
                                                + " answered_at = now() where tenant_id = :fleet and id = :id")
                                        .param("fleet", fleet.id())
                                        .param("id", proposed.id())
                                        .update())))
                .hasStackTraceContaining("row-level security policy");
    }

    @Test
    void ofTwoTabsTheSecondIsToldWhatTheFirstHasSaid() {
        var proposed = asRepairer(() -> prices.propose(partner, from(5)));
        assertThat(page(fleet, Role.MANAGER)).contains("Waits for you", "Accept", "Decline");
        assertThat(page(repairer, Role.DISPATCHER))
                .contains("Waits for", "Take back")
                .doesNotContain(">Accept<");
        assertThat(answer("decline", proposed.id(), "too dear")).hasStatus3xxRedirection();
        assertThat(answer("accept", proposed.id(), null))
                .hasStatus(409)
                .bodyText()
                .contains("declined already");
        var overApi = mvc.post()
                .uri("/api/v1/partners/" + partner + "/prices/" + proposed.id() + "/accept")
                .header("Authorization", fleet.bearer(Role.MANAGER))
                .exchange();
        assertThat(overApi).hasStatus(409).bodyText().contains("prices-answered");
        var made = mvc.post()
                .uri("/api/v1/partners/" + partner + "/prices")
                .header("Authorization", repairer.bearer(Role.DISPATCHER))
                .contentType(MediaType.APPLICATION_JSON)
                .content("{\"validFrom\": \"" + TODAY.plusDays(9)
                        + "\", \"currency\": \"GBP\", \"repairMinor\": 1, \"furtherMinor\": 1, \"callOutMinor\": 1,"
                        + " \"warrantyMonths\": 12}")
                .exchange();
        assertThat(made).hasStatus(201);
        var read = mvc.get()
                .uri(String.valueOf(made.getResponse().getHeader("Location")))
                .header("Authorization", fleet.bearer(Role.DISPATCHER))
                .exchange();
        assertThat(read).hasStatusOk().bodyText().contains("\"state\":\"waiting\"", "\"warrantyMonths\":12");
        assertThat(mvc.get()
                        .uri("/")
                        .with(authentication(new ActingAuthentication(fleet.person(Role.MANAGER))))
                        .exchange())
                .bodyText()
                .contains("Prices to answer", "/partners/" + partner);
    }

    private MvcTestResult answer(String verb, UUID proposed, @Nullable String reason) {
        var request = mvc.post()
                .uri("/partners/" + partner + "/prices/" + proposed + "/" + verb)
                .with(authentication(new ActingAuthentication(fleet.person(Role.MANAGER))))
                .with(csrf());
        return (reason == null ? request : request.param("reason", reason)).exchange();
    }

    private String page(TestOrganisation organisation, Role role) {
        try {
            return mvc.get()
                    .uri("/partners/" + partner)
                    .with(authentication(new ActingAuthentication(organisation.person(role))))
                    .exchange()
                    .getResponse()
                    .getContentAsString();
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }

    private @Nullable UUID inForce() {
        return asFleet(() -> prices.inForce(fleet.id(), repairer.id(), TODAY))
                .map(Prices::agreement)
                .orElse(null);
    }

    private static SavePrices from(int inDays) {
        return new SavePrices(TODAY.plusDays(inDays), "GBP", 4900L, 1900L, 2500L, null, 12);
    }

    private <T> T asFleet(Supplier<T> work) {
        return TestOrganisations.as(fleet, Role.MANAGER, work);
    }

    private <T> T asRepairer(Supplier<T> work) {
        return TestOrganisations.as(repairer, Role.DISPATCHER, work);
    }
}
