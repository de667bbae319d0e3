package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/** What is refused before a handler is reached, over a real connection: in the words and under the policy of the house. */
@QuarterlightTest
class ErrorAnswersTests {
    @Autowired
    private TestOrganisations organisations;

    @LocalServerPort
    private int port;

    @Test
    void addressesThatAreNoneAreAnsweredWithoutWordsAboutTheServer() throws IOException {
        for (var line : new String[] {
            "GET /vehicles/%00",
            "GET /r/..%2f",
            "GET /vehicles/%",
            "GET /api/v1/vehicles/%00",
            "TRACE /vehicles",
            "GET /\\"
        }) {
            var answer = send(line + " HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
            assertThat(answer).as(line).startsWith("HTTP/1.1 4").doesNotContain("Tomcat", "HTTP Status", "<style");
            assertThat(answer).as(line).contains("Content-Security-Policy: default-src 'none'");
            if (line.contains("/api/")) {
                assertThat(answer).as(line).contains("application/problem+json");
            }
        }
    }

    @Test
    void askingWithWhatIsNoTextIsTheCallersMistake() throws IOException {
        var bearer = organisations.fleet().bearer(Role.MANAGER);
        for (var query : new String[] {"after=%00%ff", "plate=%ff", "after=%zz"}) {
            assertThat(send("GET /api/v1/vehicles?" + query + " HTTP/1.1\r\nHost: localhost\r\nAuthorization: " + bearer
                            + "\r\nConnection: close\r\n\r\n"))
                    .as(query)
                    .startsWith("HTTP/1.1 4")
                    .contains("application/problem+json");
        }
    }

    @Test
    void theAddressOfErrorsIsNoPage() throws IOException {
        assertThat(send("GET /error HTTP/1.1\r\nHost: localhost\r\nAccept: text/html\r\nConnection: close\r\n\r\n"))
                .startsWith("HTTP/1.1 404")
                .contains("Not here");
    }

    @Test
    void filesThatBreakOffAreAProblemForPrograms() throws IOException {
        var bearer = organisations.fleet().bearer(Role.MANAGER);
        var body = "--x\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"a.jpg\"\r\n\r\nabc";
        var answer = send("POST /api/v1/damages/00000000-0000-0000-0000-000000000000/photos HTTP/1.1\r\n"
                + "Host: localhost\r\nAuthorization: " + bearer
                + "\r\nContent-Type: multipart/form-data; boundary=x\r\n"
                + "Content-Length: " + body.length() + "\r\nConnection: close\r\n\r\n" + body);
        assertThat(answer).startsWith("HTTP/1.1 400").contains("application/problem+json");
    }

    @Test
    void redirectsSayNothingOfTheHost() throws IOException {
        assertThat(send("GET / HTTP/1.1\r\nHost: elsewhere.example\r\nAccept: text/html\r\nConnection: close\r\n\r\n"))
                .startsWith("HTTP/1.1 302")
                .doesNotContain("elsewhere.example");
    }

    private String send(String request) throws IOException {
        try (var socket = new Socket("localhost", port)) {
            socket.setSoTimeout(20_000);
            socket.getOutputStream().write(request.getBytes(StandardCharsets.ISO_8859_1));
            socket.getOutputStream().flush();
            return new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        }
    }
}
