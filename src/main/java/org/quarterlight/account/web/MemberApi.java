package org.quarterlight.account.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotEmpty;
import jakarta.validation.constraints.NotNull;
import java.util.Set;
import java.util.UUID;
import org.quarterlight.account.AddMember;
import org.quarterlight.account.Member;
import org.quarterlight.account.People;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.DeleteMapping;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PatchMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

@RestController
class MemberApi {
    private final People people;

    MemberApi(People people) {
        this.people = people;
    }

    /** What a member may do from now on. */
    record Roles(@NotEmpty Set<@NotNull Role> roles) {}

    @GetMapping("/api/v1/technicians")
    Slice<Member> technicians(SliceRequest wanted) {
        return people.technicians(wanted);
    }

    @GetMapping("/api/v1/members")
    Slice<Member> list(SliceRequest wanted) {
        return people.list(wanted);
    }

    @PostMapping("/api/v1/members")
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<Member> add(@Valid @RequestBody AddMember command) {
        var member = people.add(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(member.person());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(member.version()))
                .body(member);
    }

    @PatchMapping("/api/v1/members/{id}")
    ResponseEntity<Member> change(@PathVariable UUID id, @Valid @RequestBody Roles change, IfMatch version) {
        var member = people.changeRoles(id, change.roles(), version.version());
        return ResponseEntity.ok().eTag(Integer.toString(member.version())).body(member);
    }

    @DeleteMapping("/api/v1/members/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void remove(@PathVariable UUID id, IfMatch version) {
        people.remove(id, version.version());
    }
}
