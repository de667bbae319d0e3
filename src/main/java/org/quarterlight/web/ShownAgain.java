package org.quarterlight.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.jsoup.Jsoup;
import org.jsoup.parser.ParseSettings;
import org.jsoup.parser.Parser;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.HandlerMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.View;
import org.springframework.web.servlet.ViewResolver;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerAdapter;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;
import org.springframework.web.util.ContentCachingResponseWrapper;
import org.springframework.web.util.ServletRequestPathUtils;
import org.springframework.web.util.UriComponentsBuilder;

/** Shows the page again that a refused form stands on. One place does it for all the small forms that have no object. */
@Component
class ShownAgain {
    private static final Logger LOG = LoggerFactory.getLogger(ShownAgain.class);
    private static final String REDIRECT = "redirect:";

    private final ObjectProvider<RequestMappingHandlerMapping> handlers;
    private final ObjectProvider<RequestMappingHandlerAdapter> adapter;
    private final ObjectProvider<ViewResolver> views;

    ShownAgain(
            @Qualifier("requestMappingHandlerMapping") ObjectProvider<RequestMappingHandlerMapping> handlers,
            ObjectProvider<RequestMappingHandlerAdapter> adapter,
            ObjectProvider<ViewResolver> views) {
        this.handlers = handlers;
        this.adapter = adapter;
        this.views = views;
    }

    /** Null where the form names no page, or that page is not to be seen any more. */
    @Nullable
    ModelAndView page(
            HttpStatus status,
            List<RefusedForm.Problem> problems,
            HttpServletRequest request,
            HttpServletResponse response) {
        var on = request.getAttribute(HandlerMapping.BEST_MATCHING_HANDLER_ATTRIBUTE) instanceof HandlerMethod refused
                ? refused.getMethodAnnotation(ShownOn.class)
                : null;
        if (on == null) {
            return null;
        }
        var path = UriComponentsBuilder.fromPath(on.value())
                .buildAndExpand(names(request))
                .toUriString();
        var shown = read(path, request, response);
        if (shown != null && shown.getViewName() != null && shown.getViewName().startsWith(REDIRECT)) {
            shown = read(shown.getViewName().substring(REDIRECT.length()), request, response);
        }
        var view = shown == null || shown.getViewName() == null ? null : view(shown.getViewName(), request.getLocale());
        if (shown == null || view == null) {
            return null;
        }
        var again = new ModelAndView(new Refilled(view, RefusedForm.of(request, problems)), shown.getModel());
        again.setStatus(status);
        return again;
    }

    @SuppressWarnings("unchecked") // put there by the mapping that found the form's path
    private static Map<String, ?> names(HttpServletRequest request) {
        return Objects.requireNonNullElse(
                (Map<String, ?>) request.getAttribute(HandlerMapping.URI_TEMPLATE_VARIABLES_ATTRIBUTE), Map.of());
    }

    private @Nullable ModelAndView read(String path, HttpServletRequest request, HttpServletResponse response) {
        var page = new PageRequest(request, path);
        try {
            ServletRequestPathUtils.parseAndCache(page);
            var handler = handlers.getObject().getHandler(page);
            return handler == null ? null : adapter.getObject().handle(page, response, handler.getHandler());
        } catch (Exception e) {
            // Not theirs to see, or gone: then the refusal stands on a page of its own.
            LOG.debug("{} cannot be shown again", path, e);
            return null;
        }
    }

    private @Nullable View view(String name, Locale locale) {
        for (var resolver : views.orderedStream().toList()) {
            try {
                var view = resolver.resolveViewName(name, locale);
                if (view != null) {
                    return view;
                }
            } catch (Exception e) {
                throw new IllegalStateException("No view " + name, e);
            }
        }
        return null;
    }

    /** A page with a refused form in it. */
    private record Refilled(View page, RefusedForm form) implements View {
        @Override
        public @Nullable String getContentType() {
            return page.getContentType();
        }

        @Override
        public void render(@Nullable Map<String, ?> model, HttpServletRequest request, HttpServletResponse response)
                throws Exception {
            var held = new ContentCachingResponseWrapper(response);
            page.render(model, request, held);
            var parser = Parser.htmlParser().settings(ParseSettings.preserveCase);
            var document = Jsoup.parse(new String(held.getContentAsByteArray(), StandardCharsets.UTF_8), "", parser);
            document.outputSettings().prettyPrint(false);
            form.into(document);
            response.getOutputStream().write(document.outerHtml().getBytes(StandardCharsets.UTF_8));
        }
    }
}
