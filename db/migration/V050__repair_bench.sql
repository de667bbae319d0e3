-- How a performer works with a resin system. The version of a method counts its changes; a job keeps a copy of its own.
create table method (
    tenant_id  uuid not null default current_tenant(),
    id         uuid not null,
    name       text not null check (length(name) between 1 and 120),
    definition jsonb not null,
    retired_at timestamptz,
    version    int not null,
    primary key (tenant_id, id)
);
call isolate_tenant('method');
create unique index method_name on method (tenant_id, name) where retired_at is null;
create index method_list on method (tenant_id, name, id);

create table lamp (
    tenant_id       uuid not null default current_tenant(),
    id              uuid not null,
    name            text not null check (length(name) between 1 and 120),
    wavelength_nm   numeric not null check (wavelength_nm between 300 and 450),
    hours           numeric not null check (hours >= 0),
    read_every_days int not null check (read_every_days > 0),
    retired_at      timestamptz,
    version         int not null,
    primary key (tenant_id, id)
);
call isolate_tenant('lamp');
create unique index lamp_name on lamp (tenant_id, name) where retired_at is null;
create index lamp_list on lamp (tenant_id, name, id);

-- What meters said of it: the last one counts, all of them show how it ages.
create table lamp_reading (
    tenant_id             uuid not null default current_tenant(),
    id                    uuid not null,
    lamp_id               uuid not null,
    read_on               date not null,
    irradiance_mw_per_cm2 numeric not null check (irradiance_mw_per_cm2 > 0),
    distance_mm           numeric not null check (distance_mm > 0),
    hours                 numeric not null check (hours >= 0),
    read_by               text not null,
    primary key (tenant_id, id),
    foreign key (tenant_id, lamp_id) references lamp
);
call isolate_tenant('lamp_reading');
create index lamp_reading_of on lamp_reading (tenant_id, lamp_id, read_on desc, id desc);

-- Not only resin is taken in by lots, and some of it is called back.
alter table resin_lot
    add kind text not null default 'RESIN'
        check (kind in ('RESIN', 'PIT_FILLER', 'ADHESIVE', 'FILM', 'BLADE', 'CLEANER', 'OTHER')),
    add recalled_at timestamptz,
    add recall_reason text;

-- What of a lot went into which job. The performer's own, like the lot.
create table lot_use (
    tenant_id uuid not null default current_tenant(),
    id        uuid not null,
    lot_id    uuid not null,
    job_id    uuid not null,
    amount    text not null default '',
    used_at   timestamptz not null,
    used_by   text not null,
    primary key (tenant_id, id),
    unique (tenant_id, lot_id, job_id),
    foreign key (tenant_id, lot_id) references resin_lot,
    foreign key (tenant_id, job_id) references job (performer_id, id)
);
call isolate_tenant('lot_use');
create index lot_use_newest on lot_use (tenant_id, lot_id, used_at desc, id desc);
create index lot_use_job on lot_use (tenant_id, job_id);
insert into lot_use (tenant_id, id, lot_id, job_id, used_at, used_by)
select distinct on (j.performer_id, j.id) j.performer_id, uuidv7(), l.id, j.id, j.ended_at, coalesce(j.ended_by, '')
from job j join resin_lot l on l.tenant_id = j.performer_id and l.number = j.lot_number
where j.state = 'CLOSED' and j.ended_at is not null
order by j.performer_id, j.id, l.retired_at nulls first, l.id;

-- The method that a job is done by, and the calibration that a camera behind new glass needs.
alter table job
    add method jsonb,
    add calibrated_at timestamptz,
    add calibrated_by text,
    add calibration text;
grant update (method, calibrated_at, calibrated_by, calibration) on job to quarterlight_app;

-- device_offset_seconds: how far the device's clock was ahead where it measured without a network; the times are corrected.
alter table phase
    add back_reason text,
    add reading text,
    add lamp text,
    add lamp_distance_mm numeric,
    add required_seconds int,
    add goggles boolean not null default false,
    add device_offset_seconds int;
grant update (reading) on phase to quarterlight_app;

-- Air, glass and sky as they were read beside the vehicle, with what was computed from them then.
create table job_reading (
    tenant_id    uuid not null,
    performer_id uuid not null,
    id           uuid not null,
    job_id       uuid not null,
    conditions   jsonb not null,
    outcome      text not null check (outcome in ('GO', 'WAIT', 'STOP')),
    objections   jsonb not null,
    cautions     jsonb not null,
    read_at      timestamptz not null,
    recorded_at  timestamptz not null,
    read_by      text not null,
    primary key (tenant_id, id),
    unique (performer_id, id),
    foreign key (tenant_id, performer_id, job_id) references job (tenant_id, performer_id, id)
);
call isolate_performed('job_reading');
revoke update, delete on job_reading from quarterlight_app;
create index job_reading_job on job_reading (tenant_id, job_id, read_at);

-- Somebody who may answers for what blocks a job.
create table job_override (
    tenant_id    uuid not null,
    performer_id uuid not null,
    id           uuid not null,
    job_id       uuid not null,
    gap          text not null,
    reason       text not null check (length(reason) between 1 and 500),
    made_at      timestamptz not null,
    made_by      text not null,
    primary key (tenant_id, id),
    unique (performer_id, id),
    foreign key (tenant_id, performer_id, job_id) references job (tenant_id, performer_id, id)
);
call isolate_performed('job_override');
revoke update, delete on job_override from quarterlight_app;
create index job_override_job on job_override (tenant_id, job_id, made_at);
