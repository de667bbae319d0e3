package org.quarterlight.account.web;

import jakarta.validation.Valid;
import java.util.UUID;
import org.quarterlight.account.CreateToken;
import org.quarterlight.account.NewToken;
import org.quarterlight.account.TokenView;
import org.quarterlight.account.Tokens;
import org.quarterlight.web.HoldsSecret;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.DeleteMapping;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

@RestController
@RequestMapping("/api/v1/tokens")
class TokenApi {
    private final Tokens tokens;

    TokenApi(Tokens tokens) {
        this.tokens = tokens;
    }

    @GetMapping
    Slice<TokenView> list(SliceRequest wanted) {
        return tokens.list(wanted);
    }

    @PostMapping
    @HoldsSecret
    @ResponseStatus(HttpStatus.CREATED)
    NewToken create(@Valid @RequestBody CreateToken command) {
        return tokens.create(command);
    }

    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void revoke(@PathVariable UUID id) {
        tokens.revoke(id);
    }
}
