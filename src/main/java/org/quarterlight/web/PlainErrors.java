package org.quarterlight.web;

import java.io.IOException;
import org.apache.catalina.connector.Request;
import org.apache.catalina.connector.Response;
import org.apache.catalina.valves.ErrorReportValve;
import org.jspecify.annotations.Nullable;

/**
 * What the container itself refuses, such as an address that is none, before any of our code is asked: a short answer under
 * the same policy as everywhere, without words about the server. Made by the container, by the name of the class.
 */
public class PlainErrors extends ErrorReportValve {
    @Override
    protected void report(Request request, Response response, @Nullable Throwable failure) {
        var status = response.getStatus();
        if (status < 400 || response.getContentWritten() > 0 || !response.setErrorReported()) {
            return;
        }
        var api = String.valueOf(request.getDecodedRequestURI()).startsWith("/api/")
                || String.valueOf(request.getRequestURI()).startsWith("/api/");
        SecurityConfiguration.addPolicy(response);
        response.setContentType(api ? "application/problem+json" : "text/html");
        response.setCharacterEncoding("utf-8");
        try {
            var out = response.getReporter();
            if (out != null) {
                out.write(api ? problem(status) : page(status));
                response.finishResponse();
            }
        } catch (IOException e) {
            container.getLogger().debug("The answer did not arrive", e);
        }
    }

    private static String problem(int status) {
        return """
            {"type": "/problems/%s", "status": %d, "title": "%s"}\
            """.formatted(status < 500 ? "malformed" : "unexpected", status, title(status));
    }

    private static String page(int status) {
        return """
            <!DOCTYPE html>
            <html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
            <title>%1$s · Quarterlight</title><link rel="stylesheet" href="/css/quarterlight.css"></head>
            <body><div class="page"><main class="prose"><h1>%1$s</h1><p>%2$s</p>
            <p class="actions"><a class="button" href="/">To the start page</a></p></main></div></body></html>
            """.formatted(
                        title(status),
                        status < 500
                                ? "This request cannot be answered as it came."
                                : "It is our fault, and nothing was changed. Try again.");
    }

    private static String title(int status) {
        return status == 404 ? "Not here" : status < 500 ? "That cannot be taken" : "Something broke";
    }
}
