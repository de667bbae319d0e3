package org.quarterlight.account.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.InvitePartner;
import org.quarterlight.account.PartnerState;
import org.quarterlight.account.PartnerView;
import org.quarterlight.account.Partners;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PatchMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

@RestController
@RequestMapping("/api/v1/partners")
class PartnerApi {
    private final Partners partners;

    PartnerApi(Partners partners) {
        this.partners = partners;
    }

    /** The words of an agreement. */
    record Terms(@NotNull @Size(max = 2000) String terms) {}

    @GetMapping
    Slice<PartnerView> list(@RequestParam(required = false) @Nullable PartnerState state, SliceRequest wanted) {
        return partners.list(state, wanted);
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<PartnerView> invite(@Valid @RequestBody InvitePartner command) {
        var partner = partners.invite(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(partner.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(partner.version()))
                .body(partner);
    }

    @GetMapping("/{id}")
    ResponseEntity<PartnerView> read(@PathVariable UUID id) {
        return answer(partners.partner(id));
    }

    @PatchMapping("/{id}")
    ResponseEntity<PartnerView> change(@PathVariable UUID id, @Valid @RequestBody Terms change, IfMatch version) {
        return answer(partners.changeTerms(id, change.terms(), version.version()));
    }

    @PostMapping("/{id}/accept")
    ResponseEntity<PartnerView> accept(@PathVariable UUID id) {
        return answer(partners.accept(id));
    }

    @PostMapping("/{id}/withdraw")
    ResponseEntity<PartnerView> withdraw(@PathVariable UUID id) {
        return answer(partners.withdraw(id));
    }

    private static ResponseEntity<PartnerView> answer(PartnerView partner) {
        return ResponseEntity.ok().eTag(Integer.toString(partner.version())).body(partner);
    }
}
