-- How often the glass of which vehicles is looked at. Null is any category, any depot. Where kilometres are given and
-- known of a vehicle, whichever comes first makes an inspection due.
create table inspection_plan (
    tenant_id   uuid not null default current_tenant(),
    id          uuid not null,
    name        text not null check (length(name) between 1 and 120),
    category    text check (category in ('M1', 'M2', 'M3', 'N1', 'N2', 'N3')),
    depot_id    uuid,
    period_days int not null check (period_days between 1 and 3650),
    period_km   int check (period_km between 100 and 1000000),
    first_due   date not null,
    -- The days of the week on which it is done; empty is every day on which the depot is open.
    weekdays    text[] not null default '{}',
    retired_at  timestamptz,
    version     int not null,
    primary key (tenant_id, id),
    foreign key (tenant_id, depot_id) references depot
);
call isolate_tenant('inspection_plan');
create index inspection_plan_name on inspection_plan (tenant_id, name, id) where retired_at is null;

-- An examination of the glass that a vehicle carries. The one that a plan asks for next is here from the moment the plan
-- and the vehicle are, and moves with both; there is one of them for a vehicle. Without a plan somebody asked for it.
create table inspection (
    tenant_id     uuid not null default current_tenant(),
    id            uuid not null,
    vehicle_id    uuid not null,
    plan_id       uuid,
    due_on        date not null,
    -- The day on which somebody means to do it.
    planned_on    date,
    opened_by     text,
    done_at       timestamptz,
    -- The day of it where the vehicle's depot was.
    done_on       date,
    arrived_at    timestamptz,
    inspector_id  uuid,
    inspector     text,
    windscreen_id uuid,
    grade         text check (grade in ('NONE', 'MINOR', 'MAJOR', 'DANGEROUS')),
    odometer_km   int check (odometer_km between 0 and 10000000),
    note          text not null default '',
    version       int not null,
    primary key (tenant_id, id),
    foreign key (tenant_id, vehicle_id) references vehicle,
    foreign key (tenant_id, plan_id) references inspection_plan,
    foreign key (tenant_id, windscreen_id) references windscreen,
    check ((done_at is null) = (done_on is null)),
    check ((done_at is null) = (grade is null)),
    check ((done_at is null) = (inspector is null)),
    check ((done_at is null) = (windscreen_id is null))
);
call isolate_tenant('inspection');
create unique index inspection_next on inspection (tenant_id, vehicle_id) where done_at is null and plan_id is not null;
create unique index inspection_asked on inspection (tenant_id, vehicle_id) where done_at is null and plan_id is null;
create index inspection_due on inspection (tenant_id, due_on, id) where done_at is null;
create index inspection_waiting on inspection (tenant_id, vehicle_id, due_on, id) where done_at is null;
create index inspection_done on inspection (tenant_id, done_at desc, id desc) where done_at is not null;
create index inspection_vehicle on inspection (tenant_id, vehicle_id, done_on desc, id) where done_at is not null;
create index inspection_planned on inspection (tenant_id, planned_on) where done_at is null and planned_on is not null;

-- What an inspection found of each damage.
create table inspection_finding (
    tenant_id     uuid not null default current_tenant(),
    inspection_id uuid not null,
    damage_id     uuid not null,
    number        int not null,
    answer        text not null check (answer in ('CONFIRMED', 'CHANGED', 'NEW', 'GONE')),
    gone_as       text check (gone_as in ('REPAIRED', 'REPLACED', 'NO_DAMAGE')),
    reason        text not null default '',
    found         text check (found in ('NONE', 'MINOR', 'MAJOR', 'DANGEROUS')),
    primary key (tenant_id, inspection_id, damage_id),
    foreign key (tenant_id, inspection_id) references inspection,
    foreign key (tenant_id, damage_id) references damage,
    check ((answer = 'GONE') = (gone_as is not null))
);
call isolate_tenant('inspection_finding');
create index inspection_finding_damage on inspection_finding (tenant_id, damage_id);

-- How far a vehicle had run on a day, as somebody read it.
create table odometer_reading (
    tenant_id  uuid not null default current_tenant(),
    vehicle_id uuid not null,
    read_on    date not null,
    km         int not null check (km between 0 and 10000000),
    read_by    text not null,
    primary key (tenant_id, vehicle_id, read_on),
    foreign key (tenant_id, vehicle_id) references vehicle
);
call isolate_tenant('odometer_reading');
