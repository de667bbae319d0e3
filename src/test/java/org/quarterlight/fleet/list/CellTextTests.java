package org.quarterlight.fleet.list;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

class CellTextTests {
    private static final LocalDate TODAY = LocalDate.of(2026, 3, 2);

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "18000 | | 18000",
                "18.000 | | 18000",
                "18,000 | | 18000",
                "18 000 kg | | 18000",
                "18'000 kg | t | 18000",
                "18.000,00 | kg | 18000",
                "18,000.5 | kg | 18001",
                "3,5 t | kg | 3500",
                "3.5t | | 3500",
                "3.500 t | | 3500",
                "3,5 | | 3500",
                "7.49 | t | 7490",
                "12,01 to. | | 12010",
                "10000 lbs | | 4536",
                "10,000 | lbs | 4536",
                "1.234.567 | lb | ",
                "3.5 | kg | ",
                "7.49.0 | | ",
                "1,2,3,4 | | ",
                "12.000.00 | | ",
                "heavy | | ",
                "12 stone | | ",
                "-3500 | | "
            })
    void readsMassesInEveryHabit(String text, @Nullable String unit, @Nullable Integer kg) {
        var parsed = MassText.parse(text, unit == null ? "" : unit);
        if (kg == null) {
            assertThat(parsed).isInstanceOf(Parsed.Wrong.class);
        } else {
            assertThat(parsed).isEqualTo(new Parsed.Value<>(kg));
        }
    }

    /** Classes by mass: UNECE R.E.3, from memory, not checked against the published text. */
    @ParameterizedTest
    @CsvSource({
        "n1, 3500, N1",
        "M 3 class III, 18000, M3",
        "N1G, , N1",
        "Lkw, 3500, N1",
        "Lkw, 3501, N2",
        "truck, 12000, N2",
        "camión, 12001, N3",
        "autocar, 5000, M2",
        "Bus, 5001, M3",
        "PKW, , M1",
        "furgoneta, , N1",
        "van, 4600, N2",
        "Kleinbus, , M2",
        "Lkw (7.5 t), 7490, N2",
        "van / LCV, , N1"
    })
    void readsCategoriesAsCodesAndWords(String text, @Nullable Integer massKg, VehicleCategory category) {
        assertThat(CategoryText.parse(text, massKg)).isEqualTo(new Parsed.Value<>(category));
    }

    @Test
    void takesATruckWithoutMassForTheHeavierClassAndSaysSo() {
        assertThat(CategoryText.parse("Lkw", null))
                .isEqualTo(new Parsed.Doubtful<>(
                        VehicleCategory.N3, "says “Lkw” without a maximum mass; taken as N3, over 12 t"));
    }

    @Test
    void doubtsACategoryThatDoesNotGoWithTheMass() {
        assertThat(CategoryText.parse("N1", 18_000))
                .isEqualTo(new Parsed.Doubtful<>(VehicleCategory.N1, "says N1, which does not go with 18000 kg"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"Left", "LHD", "left-hand drive", "links", "Linkslenker", "Izquierda", "izda."})
    void readsTheLeftSide(String text) {
        assertThat(SideText.parse(text)).isEqualTo(new Parsed.Value<>(SteeringSide.LEFT));
    }

    @ParameterizedTest
    @ValueSource(strings = {"right", "R.H.D.", "Right-Hand Drive", "rechts", "Rechtslenker", "derecha", "dcha."})
    void readsTheRightSide(String text) {
        assertThat(SideText.parse(text)).isEqualTo(new Parsed.Value<>(SteeringSide.RIGHT));
    }

    @ParameterizedTest
    @CsvSource({
        "2024-04-03, DAY_FIRST, 2024-04-03",
        "2024-04-03T00:00:00, MONTH_FIRST, 2024-04-03",
        "2024-04-03 00:00, MONTH_FIRST, 2024-04-03",
        "3.4.2024, MONTH_FIRST, 2024-04-03",
        "03. 04. 2024, DAY_FIRST, 2024-04-03",
        "03/04/2024, DAY_FIRST, 2024-04-03",
        "03/04/2024, MONTH_FIRST, 2024-03-04",
        "25/04/2024, MONTH_FIRST, 2024-04-25",
        "3-4-24, DAY_FIRST, 2024-04-03",
        "03.04.99, DAY_FIRST, 1999-04-03",
        "29.02.2024, DAY_FIRST, 2024-02-29",
        "3-Apr-24, MONTH_FIRST, 2024-04-03",
        "'Apr 3, 2024', DAY_FIRST, 2024-04-03",
        "3. März 2024, DAY_FIRST, 2024-03-03",
        "3 de diciembre de 2024, DAY_FIRST, 2024-12-03"
    })
    void readsDatesInEveryHabit(String text, DateOrder order, LocalDate date) {
        assertThat(DateText.parse(text, order, TODAY)).isEqualTo(new Parsed.Value<>(date));
    }

    @ParameterizedTest
    @CsvSource({
        "30.02.2024, there is no such day",
        "13/13/2024, there is no such day",
        "03.03.2026, still to come",
        "0001-01-01, before 1900",
        "March 2024, not a date",
        "44000, a spreadsheet's number of a day",
        "3-Foo-2024, not a date",
        "31-Apr-2024, there is no such day"
    })
    void refusesDatesThatCannotBe(String text, String reason) {
        assertThat(DateText.parse(text, DateOrder.DAY_FIRST, TODAY))
                .isInstanceOfSatisfying(
                        Parsed.Wrong.class, wrong -> assertThat(wrong.reason()).contains(reason));
    }

    @ParameterizedTest
    @CsvSource({
        "Reg. No., REGISTRATION",
        "AMTL. KENNZEICHEN, REGISTRATION",
        "Matricula, REGISTRATION",
        "N.º de bastidor, VIN",
        "FIN / VIN, VIN",
        "Fahrzeug-Identifizierungsnummer (E), VIN",
        "EG-Fahrzeugklasse, CATEGORY",
        "zulaessige Gesamtmasse in kg, MAXIMUM_MASS",
        "GVW [t], MAXIMUM_MASS",
        "MMA (kg), MAXIMUM_MASS",
        "Hand of drive, STEERING_SIDE",
        "Kennzeichen / Registration, REGISTRATION",
        "Make & model, MODEL",
        "1ª matriculación, FIRST_REGISTERED",
        "Scheibe eingebaut am, GLASS_FITTED",
        "Glass fitted date, GLASS_FITTED",
        "Einbaudatum Scheibe, GLASS_FITTED",
        "Fecha de montaje parabrisas, GLASS_FITTED",
        "Amtl. Kennz., REGISTRATION",
        "max_mass_kg, MAXIMUM_MASS",
        "Vehicle make/model, MODEL",
        "Standort/Niederlassung, DEPOT",
        "Überführung, ",
        "Tyre size, "
    })
    void knowsHeadingsInThreeLanguages(String heading, @Nullable Field field) {
        var meaning = Headings.meaning(heading);
        assertThat(meaning == null ? null : meaning.field()).isEqualTo(field);
    }

    @ParameterizedTest
    @CsvSource({"max_mass_kg, kg", "maxMassKg, kg", "GVW_t, t", "zGG in t, t", "MMA (kg), kg", "plated weight, ''"})
    void findsTheUnitOfTheHeading(String heading, String unit) {
        assertThat(Headings.unit(heading)).isEqualTo(unit);
    }

    @Test
    void noHeadingMeansTwoFields() {
        for (var field : Field.values()) {
            for (var synonym : field.synonyms()) {
                assertThat(Headings.meaning(synonym))
                        .as(synonym)
                        .isNotNull()
                        .satisfies(meaning -> assertThat(meaning.field()).isEqualTo(field));
            }
        }
    }
}
