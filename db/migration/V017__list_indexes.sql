-- Lists of large fleets in the orders and by the filters that their pages offer, each read along an index.
create index damage_state on damage (tenant_id, state, occurred_at desc, id desc);
create index damage_worst_closed on damage (tenant_id, rank, act_by, id) where state = 'CLOSED';

create index vehicle_condition_rank on vehicle_condition (tenant_id, rank, vehicle_id);

create index job_fleet_due on job (tenant_id, act_by, id);
create index job_performer_due on job (performer_id, act_by, id);
create index job_fleet_open on job (tenant_id, act_by, id)
    where state in ('REQUESTED', 'APPROVED', 'PLANNED', 'UNDER_WAY', 'INSPECTED');
create index job_performer_open on job (performer_id, act_by, id)
    where state in ('REQUESTED', 'APPROVED', 'PLANNED', 'UNDER_WAY', 'INSPECTED');
create index job_fleet_vehicle on job (tenant_id, vehicle_id, requested_at desc, id desc);
create index job_performer_vehicle on job (performer_id, vehicle_id, requested_at desc, id desc);
