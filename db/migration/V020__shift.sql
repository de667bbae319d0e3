-- A van's hours and technician on one day, where they are not the usual ones that the van itself carries.
create table shift (
    tenant_id       uuid not null default current_tenant(),
    id              uuid not null,
    van_id          uuid not null,
    day             date not null,
    technician_id   uuid,
    technician_name text,
    starts_at       time not null,
    ends_at         time not null check (ends_at > starts_at),
    retired_at      timestamptz,
    version         int not null,
    primary key (tenant_id, id),
    foreign key (tenant_id, van_id) references van
);
call isolate_tenant('shift');
create unique index shift_van on shift (tenant_id, van_id, day) where retired_at is null;
create unique index shift_technician on shift (tenant_id, technician_id, day)
    where retired_at is null and technician_id is not null;
create index shift_day on shift (tenant_id, day, id) where retired_at is null;
