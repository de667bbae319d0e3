package org.quarterlight.inspection.web;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.validation.Valid;
import java.util.UUID;
import org.quarterlight.inspection.InspectionPlans;
import org.quarterlight.inspection.PlanView;
import org.quarterlight.inspection.SavePlan;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.MergePatch;
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
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;
import tools.jackson.databind.node.ObjectNode;

@RestController
@RequestMapping("/api/v1/inspection-plans")
class InspectionPlanApi {
    private final InspectionPlans plans;
    private final MergePatch patches;

    InspectionPlanApi(InspectionPlans plans, MergePatch patches) {
        this.plans = plans;
        this.patches = patches;
    }

    @Operation(
            summary = "Inspection plans by name",
            description = "A plan without a category or depot holds for all of them. Where several hold for a vehicle,"
                    + " the one that falls due first counts. A new or changed plan counts at once.")
    @GetMapping
    Slice<PlanView> list(SliceRequest wanted) {
        return plans.list(wanted);
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<PlanView> create(@Valid @RequestBody SavePlan command) {
        var plan = plans.create(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(plan.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(plan.version()))
                .body(plan);
    }

    @GetMapping("/{id}")
    ResponseEntity<PlanView> read(@PathVariable UUID id) {
        return answer(plans.plan(id));
    }

    @PatchMapping("/{id}")
    ResponseEntity<PlanView> change(
            @PathVariable UUID id,
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SavePlan.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var command = patches.apply(SavePlan.of(plans.plan(id)), change, SavePlan.class);
        return answer(plans.change(id, command, version.version()));
    }

    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void retire(@PathVariable UUID id, IfMatch version) {
        plans.retire(id, version.version());
    }

    private static ResponseEntity<PlanView> answer(PlanView plan) {
        return ResponseEntity.ok().eTag(Integer.toString(plan.version())).body(plan);
    }
}
