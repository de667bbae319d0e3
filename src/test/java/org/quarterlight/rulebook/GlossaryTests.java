package org.quarterlight.rulebook;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.eligibility.Simplifications;
import org.quarterlight.glass.GenericGlass;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** The words of the trade, and the figures behind a verdict, for everybody. */
@QuarterlightTest
class GlossaryTests {
    @Autowired
    private MockMvcTester mvc;

    @Test
    void saysWithTheFiguresOfTheJudgeHowLengthsAreJudged() throws Exception {
        var page = mvc.get().uri("/glossary").exchange();
        assertThat(page).hasStatus(200);
        var text = page.getResponse().getContentAsString();
        assertThat(text)
                .contains("How lengths are judged", "more than <span>95</span> %", "under <span>5</span> %")
                .contains(Math.round(100 * Seen.EYE.share()) + " % of the length, at least 2 mm")
                .contains(">" + Seen.GAUGE.atLeastMm() + " mm<");
        for (var glass : GenericGlass.values()) {
            assertThat(text)
                    .contains(glass.title())
                    .contains("%.1f %%".formatted(100 * Simplifications.heightShare(glass)));
        }
    }
}
