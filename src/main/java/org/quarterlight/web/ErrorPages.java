package org.quarterlight.web;

import jakarta.servlet.RequestDispatcher;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Map;
import org.apache.catalina.core.StandardHost;
import org.springframework.boot.tomcat.servlet.TomcatServletWebServerFactory;
import org.springframework.boot.web.server.WebServerFactoryCustomizer;
import org.springframework.boot.webmvc.error.ErrorController;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpMethod;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.servlet.ModelAndView;

/** What went wrong outside of any handler: a page for people, problem details for programs. */
@Controller
class ErrorPages implements ErrorController, WebServerFactoryCustomizer<TomcatServletWebServerFactory> {
    @Override
    public void customize(TomcatServletWebServerFactory server) {
        server.addContextCustomizers(
                context -> ((StandardHost) context.getParent()).setErrorReportValveClass(PlainErrors.class.getName()));
    }

    @RequestMapping("/error")
    Object error(HttpServletRequest request, HttpServletResponse response) {
        SecurityConfiguration.addPolicy(response);
        // Asked for by its own address it is a page that is not there.
        var code = request.getAttribute(RequestDispatcher.ERROR_STATUS_CODE) instanceof Integer met ? met : 404;
        var found = HttpStatus.resolve(code);
        var status = found == null ? HttpStatus.INTERNAL_SERVER_ERROR : found;
        var address = request.getAttribute(RequestDispatcher.ERROR_REQUEST_URI);
        if (address instanceof String path && path.startsWith("/api/")) {
            return ResponseEntity.status(status)
                    .body(ProblemWriter.problem(status, code(status), status.getReasonPhrase()));
        }
        var page = page(status, "This request cannot be answered as it came.");
        if (status == HttpStatus.TOO_MANY_REQUESTS) {
            page.addObject("waitMinutes", TooManyRequests.minutes(patience(response)));
            // The form of the code in a cab. Of no other is anything kept: passwords too are typed too often.
            if (address instanceof String path
                    && path.startsWith("/r/")
                    && HttpMethod.POST.matches(String.valueOf(request.getAttribute(RequestDispatcher.ERROR_METHOD)))) {
                keep(request, path, page);
            }
        }
        return page;
    }

    /** As whoever refused it has told. */
    private static Duration patience(HttpServletResponse response) {
        var told = response.getHeader(HttpHeaders.RETRY_AFTER);
        return Duration.ofSeconds(told == null ? 0 : Long.parseLong(told));
    }

    /** What was typed stands in the page, to be sent again from there. Files do not: they are chosen anew. */
    private static void keep(HttpServletRequest request, String path, ModelAndView page) {
        var kept = new ArrayList<Map.Entry<String, String>>();
        request.getParameterMap().forEach((name, values) -> {
            if (!name.equals("_csrf")) {
                Arrays.stream(values).forEach(value -> kept.add(Map.entry(name, value)));
            }
        });
        page.addObject("kept", kept);
        page.addObject("keptFor", path);
        page.addObject("withPhotos", String.valueOf(request.getContentType()).startsWith("multipart/"));
    }

    static ModelAndView page(HttpStatus status, String sentence) {
        var page = new ModelAndView("error", status);
        page.addObject("status", status.value());
        page.addObject("message", sentence);
        return page;
    }

    private static String code(HttpStatus status) {
        return switch (status) {
            case NOT_FOUND -> "not-found";
            case FORBIDDEN -> "role";
            case TOO_MANY_REQUESTS -> "locked";
            case CONTENT_TOO_LARGE -> "too-large";
            default -> status.is4xxClientError() ? "malformed" : "unexpected";
        };
    }
}
