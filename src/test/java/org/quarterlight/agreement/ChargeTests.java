package org.quarterlight.agreement;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.quarterlight.kernel.Money;

/** What one job costs. The rules are what was agreed for the service, no trade facts; the figures are made up. */
class ChargeTests {
    private static final Prices PRICES = new Prices(new UUID(0, 1), "GBP", 4900, 1900, 2500, 30000L, null);

    /** A repair of 49, each further chip 19, call-out 25. */
    @ParameterizedTest(name = "{0} chips, charged before: chip {1}, call-out {2}")
    @CsvSource({
        "1, false, false, 4900,  0, 2500",
        "2, false, false, 6800,  1, 2500",
        "5, false, false, 12500, 4, 2500",
        "1, true,  true,  1900,  1, 0",
        "2, true,  true,  3800,  2, 0",
        "1, false, true,  4900,  0, 0",
        "1, true,  false, 1900,  1, 2500",
    })
    void aRepairIsChargedByChipsAndVisit(
            int chips, boolean chip, boolean callOut, long workMinor, int further, long callOutMinor) {
        var charge = Charge.of(new Charge.Done(true, chips, false, false), PRICES, new Charge.Before(chip, callOut));
        assertThat(charge.basis()).isEqualTo(Charge.Basis.AGREED);
        assertThat(charge.chips()).isEqualTo(chips);
        assertThat(charge.furtherChips()).isEqualTo(further);
        assertThat(charge.work()).isEqualTo(gbp(workMinor));
        assertThat(charge.callOut()).isEqualTo(gbp(callOutMinor));
        assertThat(charge.total()).isEqualTo(gbp(workMinor + callOutMinor));
    }

    @ParameterizedTest(name = "failed {0}, warranty {1}")
    @CsvSource({"true, false, FAILED", "true, true, FAILED", "false, true, WARRANTY"})
    void whatFailsAndWhatIsMadeGoodCostsNothing(boolean failed, boolean warranty, Charge.Basis basis) {
        for (var repair : new boolean[] {true, false}) {
            var done = new Charge.Done(repair, 2, failed, warranty);
            var charge = Charge.of(done, PRICES, Charge.Before.NOTHING);
            assertThat(charge).isEqualTo(new Charge(basis, 0, 0, gbp(0), gbp(0)));
            assertThat(Charge.of(done, null, Charge.Before.NOTHING).total()).isNull();
        }
    }

    @Test
    void newGlassIsChargedWhereItHasAPriceAndCarriesTheCallOut() {
        var done = new Charge.Done(false, 0, false, false);
        assertThat(Charge.of(done, PRICES, Charge.Before.NOTHING).total()).isEqualTo(gbp(32500));
        assertThat(Charge.of(done, PRICES, new Charge.Before(true, true)).total())
                .isEqualTo(gbp(30000));
        assertThat(Charge.of(done, without(null), Charge.Before.NOTHING))
                .isEqualTo(new Charge(Charge.Basis.NOT_AGREED, 0, 0, null, null));
    }

    @Test
    void withoutPricesThereIsNoAmount() {
        var charge = Charge.of(new Charge.Done(true, 1, false, false), null, Charge.Before.NOTHING);
        assertThat(charge.basis()).isEqualTo(Charge.Basis.NOT_AGREED);
        assertThat(charge.total()).isNull();
    }

    private static Prices without(@Nullable Long replacementMinor) {
        return new Prices(new UUID(0, 1), "GBP", 4900, 1900, 2500, replacementMinor, null);
    }

    private static Money gbp(long minor) {
        return new Money(minor, "GBP");
    }
}
