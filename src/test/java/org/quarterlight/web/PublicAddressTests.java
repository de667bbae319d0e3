package org.quarterlight.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import java.io.IOException;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.springframework.mock.web.MockFilterChain;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

class PublicAddressTests {
    @Test
    void whateverHostIsNamedAddressesBeginWithThePublicOne() throws ServletException, IOException {
        var seen = through("https://glass.example/");
        assertThat(ServletUriComponentsBuilder.fromContextPath(seen)
                        .path("/r/1")
                        .toUriString())
                .isEqualTo("https://glass.example/r/1");
        assertThat(seen.getRequestURL()).hasToString("https://glass.example/vehicles");
        assertThat(seen.isSecure()).isTrue();
        assertThat(ServletUriComponentsBuilder.fromContextPath(through("http://glass.example:8443"))
                        .toUriString())
                .isEqualTo("http://glass.example:8443");
    }

    @Test
    void withoutOneTheRequestStaysAsItCame() throws ServletException, IOException {
        assertThat(through("").getServerName()).isEqualTo("elsewhere.example");
    }

    @Test
    void whatIsNoAddressIsSaidAtTheStart() {
        for (var wrong : new String[] {"glass.example", "https://glass.example/here", "ftp://glass.example"}) {
            assertThatThrownBy(() -> new PublicAddress(wrong)).isInstanceOf(IllegalArgumentException.class);
        }
    }

    private static HttpServletRequest through(String address) throws ServletException, IOException {
        var request = new MockHttpServletRequest("GET", "/vehicles");
        request.setServerName("elsewhere.example");
        var chain = new MockFilterChain();
        new PublicAddress(address).doFilter(request, new MockHttpServletResponse(), chain);
        return (HttpServletRequest) Objects.requireNonNull(chain.getRequest());
    }
}
