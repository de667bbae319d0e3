package org.quarterlight.repair.web;

import io.swagger.v3.oas.annotations.Operation;
import jakarta.validation.Valid;
import java.util.UUID;
import org.quarterlight.repair.JobView;
import org.quarterlight.repair.MeasureOnSite;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.repair.SiteMeasurements;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

@RestController
@RequestMapping("/api/v1/jobs/{id}/measurements")
class SiteMeasurementApi {
    private final SiteMeasurements measurements;
    private final RepairJobs jobs;

    SiteMeasurementApi(SiteMeasurements measurements, RepairJobs jobs) {
        this.measurements = measurements;
        this.jobs = jobs;
    }

    @Operation(
            summary = "Measure a damage of the job at the vehicle",
            description = "Stands in the job's notes, and becomes an observation of the fleet's damage, which is judged"
                    + " again. The brief stays as it was agreed.")
    @PostMapping
    ResponseEntity<JobView> measure(@PathVariable UUID id, @Valid @RequestBody MeasureOnSite command) {
        measurements.measure(id, command);
        var job = jobs.job(id);
        return ResponseEntity.ok().eTag(Integer.toString(job.version())).body(job);
    }
}
