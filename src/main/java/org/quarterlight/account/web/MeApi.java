package org.quarterlight.account.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import java.util.UUID;
import org.quarterlight.account.ChangePassword;
import org.quarterlight.account.Invitation;
import org.quarterlight.account.OwnAccess;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.Slice;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

@RestController
@RequestMapping("/api/v1/me")
class MeApi {
    private final OwnAccess access;

    MeApi(OwnAccess access) {
        this.access = access;
    }

    /** Which invitation is answered. */
    record InvitationAnswer(@NotNull UUID organisation) {}

    /** Ends all keys and sessions made before, the one that asks too where it is a key. */
    @PutMapping("/password")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void changePassword(@Valid @RequestBody ChangePassword command, HttpServletRequest request) {
        access.changePassword(command, request.getRemoteAddr(), session(request));
    }

    /** All of them: a person has few. */
    @GetMapping("/invitations")
    Slice<Invitation> invitations() {
        return new Slice<>(access.invitations(), null);
    }

    @PostMapping("/invitations/accept")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void accept(@Valid @RequestBody InvitationAnswer answer) {
        access.accept(answer.organisation());
    }

    @PostMapping("/invitations/decline")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void decline(@Valid @RequestBody InvitationAnswer answer) {
        access.decline(answer.organisation());
    }

    private static @org.jspecify.annotations.Nullable String session(HttpServletRequest request) {
        var session = Acting.require().token() == null ? request.getSession(false) : null;
        return session == null ? null : session.getId();
    }
}
