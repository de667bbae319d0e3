package org.quarterlight.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.Objects;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.context.support.StaticMessageSource;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.setup.MockMvcBuilders;
import org.thymeleaf.spring6.SpringTemplateEngine;
import org.thymeleaf.spring6.view.ThymeleafViewResolver;
import org.thymeleaf.templatemode.TemplateMode;
import org.thymeleaf.templateresolver.ClassLoaderTemplateResolver;

/** Renders the page that shows every part, and with it layout, fields and marks. */
class ComponentsPageTests {
    private final MockMvcTester mvc = MockMvcTester.create(MockMvcBuilders.standaloneSetup(new ComponentsPage())
            .setViewResolvers(views())
            .build());

    @Test
    void marksTheFieldsThatAreToBeMendedAndKeepsWhatWasTyped() {
        assertThat(page("/components"))
                .contains("Two things to mend")
                .contains("href=\"#size\">Size: give a number, for example 19 or 3/4 in</a>")
                .containsPattern("<input [^>]*aria-invalid=\"true\"[^>]*id=\"size\"[^>]*value=\"about 2\"")
                .containsPattern("aria-describedby=\"size-hint size-error size-unit\"")
                .containsPattern("<input [^>]*value=\"star-break\" name=\"kind\" checked=\"checked\"");
    }

    @Test
    void namesTheCurrentJobAndOffersTheOtherOrganisations() {
        assertThat(page("/components"))
                .containsPattern("<a href=\"/components\" aria-current=\"page\">")
                .contains("action=\"/organisation/switch\"")
                .contains("action=\"/sign-out\"");
    }

    @ParameterizedTest
    @ValueSource(strings = {"light", "dark", "outdoor", "print"})
    void takesTheLookThatIsAskedFor(String look) {
        assertThat(page("/components?look=" + look)).containsPattern("<html[^>]* data-look=\"" + look + "\"");
    }

    @Test
    void leavesTheLookToTheDeviceOtherwise() {
        assertThat(page("/components")).doesNotContainPattern("<html[^>]* data-look=");
    }

    @Test
    void obeysTheStrictContentPolicy() {
        var page = page("/components");

        assertThat(page).doesNotContain(" style=", "<style", "javascript:", "hx-on");
        assertThat(page).doesNotContainPattern(Pattern.compile(" on[a-z]+=\""));
        assertThat(page).doesNotContainPattern("<script(?![^>]* src=)");
    }

    @Test
    void usesEachIdOnce() {
        var ids = Pattern.compile(" id=\"([^\"]+)\"")
                .matcher(page("/components"))
                .results()
                .map(id -> id.group(1));

        assertThat(ids).doesNotHaveDuplicates();
    }

    private String page(String path) {
        var result = mvc.get().uri(path).exchange();
        assertThat(result).hasStatusOk();
        return new String(Objects.requireNonNull(result.getResponse()).getContentAsByteArray(), StandardCharsets.UTF_8);
    }

    private static ThymeleafViewResolver views() {
        var templates = new ClassLoaderTemplateResolver();
        templates.setPrefix("templates/");
        templates.setSuffix(".html");
        templates.setTemplateMode(TemplateMode.HTML);
        templates.setCharacterEncoding("UTF-8");
        var engine = new SpringTemplateEngine();
        engine.setTemplateResolver(templates);
        engine.setTemplateEngineMessageSource(new StaticMessageSource());
        var views = new ThymeleafViewResolver();
        views.setTemplateEngine(engine);
        views.setCharacterEncoding("UTF-8");
        return views;
    }
}
