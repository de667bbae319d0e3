-- Only for a query that names the fleet: "is not null" follows from that and from nothing else. Without it the planner at
-- times took this index for a repairer's list, and read the open jobs of every fleet.
drop index job_fleet_open;
create index job_fleet_open on job (tenant_id, act_by, id)
    where tenant_id is not null and state in ('REQUESTED', 'APPROVED', 'PLANNED', 'UNDER_WAY', 'INSPECTED');
