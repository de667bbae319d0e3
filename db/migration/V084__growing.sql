-- What lists and start pages say of a damage besides its verdict: that nobody may drive until it is measured, and on
-- which day it is expected to be judged worse, beside the day on which somebody means to see to it.
alter table damage
    add column until_measured boolean not null default false,
    add column passes_on      date,
    add column planned_on     date,
    add column planned_by     text;
alter table vehicle_condition add column until_measured boolean not null default false;

-- Of the open ones that wait for a measurement only the newest verdict is looked at, by its index.
update damage d set until_measured = true
where d.state <> 'CLOSED' and d.outcome = 'MEASURE_AGAIN' and (
    select v.content #>> '{answers,roadworthy,couldBe}' from verdict v
    where v.tenant_id = d.tenant_id and v.damage_id = d.id order by v.id desc limit 1) = 'dangerous';
update vehicle_condition c set until_measured = true, version = version + 1
where exists (select from damage d join windscreen w on w.tenant_id = d.tenant_id and w.id = d.windscreen_id
    where d.tenant_id = c.tenant_id and d.vehicle_id = c.vehicle_id and d.until_measured and d.state <> 'CLOSED'
        and w.removed_on is null);

-- Both hold next to nothing, and are built in less than a second from a million rows.
create index damage_growing on damage (tenant_id, passes_on, id) where passes_on is not null and state <> 'CLOSED';
create index vehicle_condition_not_driven on vehicle_condition (tenant_id, vehicle_id)
    where stands_down_since is not null or until_measured;
