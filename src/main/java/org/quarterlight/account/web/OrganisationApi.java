package org.quarterlight.account.web;

import jakarta.validation.Valid;
import org.quarterlight.account.ChangeOrganisation;
import org.quarterlight.account.CreateOrganisation;
import org.quarterlight.account.OrganisationView;
import org.quarterlight.account.Organisations;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PatchMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

@RestController
class OrganisationApi {
    private final Organisations organisations;

    OrganisationApi(Organisations organisations) {
        this.organisations = organisations;
    }

    @GetMapping("/api/v1/organisation")
    ResponseEntity<OrganisationView> present() {
        return answer(organisations.present());
    }

    @PatchMapping("/api/v1/organisation")
    ResponseEntity<OrganisationView> change(@Valid @RequestBody ChangeOrganisation change, IfMatch version) {
        return answer(organisations.change(change, version.version()));
    }

    @GetMapping("/api/v1/organisations")
    Slice<OrganisationView> list(SliceRequest wanted) {
        return organisations.list(wanted);
    }

    @PostMapping("/api/v1/organisations")
    @ResponseStatus(HttpStatus.CREATED)
    OrganisationView create(@Valid @RequestBody CreateOrganisation command) {
        return organisations.create(command);
    }

    private static ResponseEntity<OrganisationView> answer(OrganisationView organisation) {
        return ResponseEntity.ok()
                .eTag(Integer.toString(organisation.version()))
                .body(organisation);
    }
}
