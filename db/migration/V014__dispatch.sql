create table van (
    tenant_id       uuid not null default current_tenant(),
    id              uuid not null,
    name            text not null check (length(name) between 1 and 60),
    base            text not null default '',
    latitude        numeric not null check (latitude between -90 and 90),
    longitude       numeric not null check (longitude between -180 and 180),
    zone            text not null,
    technician_id   uuid,
    technician_name text,
    starts_at       time not null,
    ends_at         time not null check (ends_at > starts_at),
    retired_at      timestamptz,
    version         int not null,
    primary key (tenant_id, id)
);
call isolate_tenant('van');
create unique index van_name on van (tenant_id, name) where retired_at is null;

-- A van's day as a whole, for who changes it last.
create table van_day (
    tenant_id uuid not null default current_tenant(),
    van_id    uuid not null,
    day       date not null,
    version   int not null,
    primary key (tenant_id, van_id, day),
    foreign key (tenant_id, van_id) references van
);
call isolate_tenant('van_day');

-- The performer's own row about a job: it carries the performer's tenant_id and refers to the job by it.
create table stop (
    tenant_id uuid not null default current_tenant(),
    id        uuid not null,
    van_id    uuid not null,
    day       date not null,
    position  int not null check (position > 0),
    job_id    uuid not null,
    minutes   int not null check (minutes between 1 and 720),
    primary key (tenant_id, id),
    unique (tenant_id, job_id),
    foreign key (tenant_id, van_id, day) references van_day,
    foreign key (tenant_id, job_id) references job (performer_id, id)
);
call isolate_tenant('stop');
create index stop_day on stop (tenant_id, day, van_id, position);
