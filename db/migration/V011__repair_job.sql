-- Rows that the performer adds to a job of the fleet's: both read them, nobody changes them. The key to the job carries
-- both parties, so a row cannot name others than the job does.
create procedure isolate_performed(owned regclass) language plpgsql as $$
declare
    party text := '(tenant_id = current_tenant() or performer_id = current_tenant())';
begin
    call force_row_policies(owned);
    execute format('create policy party_reads on %s for select to quarterlight_app using %s', owned, party);
    execute format('create policy performer_adds on %s for insert to quarterlight_app
                    with check (performer_id = current_tenant())', owned);
    execute format('create policy performer_changes on %s for update to quarterlight_app
                    using (performer_id = current_tenant())', owned);
end $$;

-- No default for tenant_id: the performer writes here too, and the row still belongs to the fleet.
create table job (
    tenant_id        uuid not null,
    performer_id     uuid not null references organisation,
    id               uuid not null,
    number           int not null check (number > 0),
    work             text not null check (work in ('REPAIR', 'REPLACEMENT')),
    state            text not null check (state in ('REQUESTED', 'APPROVED', 'PLANNED', 'UNDER_WAY', 'INSPECTED', 'CLOSED', 'DECLINED', 'ABANDONED')),
    vehicle_id       uuid not null,
    windscreen_id    uuid not null,
    registration     text not null,
    registration_key text collate "C" not null,
    depot_name       text not null,
    zone             text not null,
    act_by           date not null,
    brief            jsonb not null,
    follows_id       uuid,
    warranty         boolean not null,
    performer_name   text not null,
    technician_id    uuid,
    technician_name  text,
    planned_on       date,
    reason           text,
    result           text,
    closing_notes    text,
    lot_number       text,
    fitted_id        uuid,
    glass_marking    text,
    requested_at     timestamptz not null,
    requested_by     text not null,
    approved_at      timestamptz,
    started_at       timestamptz,
    inspected_at     timestamptz,
    ended_at         timestamptz,
    ended_by         text,
    version          int not null,
    primary key (tenant_id, id),
    unique (performer_id, id),
    unique (tenant_id, performer_id, id),
    unique (tenant_id, number),
    foreign key (tenant_id, vehicle_id) references vehicle,
    foreign key (tenant_id, windscreen_id) references windscreen,
    foreign key (tenant_id, follows_id) references job
);
call isolate_parties('job');
-- The fleet, the number and the brief are fixed when the job is made; whom it is shared with, the row policy limits.
revoke update, delete on job from quarterlight_app;
grant update (performer_id, performer_name, state, technician_id, technician_name, planned_on, reason, result,
    closing_notes, lot_number, fitted_id, glass_marking, approved_at, started_at, inspected_at, ended_at, ended_by,
    version) on job to quarterlight_app;
create index job_fleet_newest on job (tenant_id, requested_at desc, id desc);
create index job_fleet_state on job (tenant_id, state, act_by, id);
create index job_fleet_plate on job (tenant_id, registration_key);
create index job_performer_newest on job (performer_id, requested_at desc, id desc);
create index job_performer_state on job (performer_id, state, act_by, id);
create index job_performer_day on job (performer_id, planned_on, id) where planned_on is not null;
create index job_technician on job (performer_id, technician_id, requested_at desc, id desc) where technician_id is not null;
create index job_follows on job (tenant_id, follows_id) where follows_id is not null;

create table phase (
    tenant_id    uuid not null,
    performer_id uuid not null,
    id           uuid not null,
    job_id       uuid not null,
    kind         text not null check (kind in ('PREPARE', 'OPEN', 'CLEAN', 'MOUNT', 'INJECT', 'PRESSURE', 'VACUUM', 'PIT_FILL', 'CURE', 'FINISH', 'LOOK_OVER')),
    started_at   timestamptz not null,
    ended_at     timestamptz check (ended_at >= started_at),
    note         text not null default '',
    recorded_at  timestamptz not null,
    recorded_by  text not null,
    primary key (tenant_id, id),
    unique (performer_id, id),
    foreign key (tenant_id, performer_id, job_id) references job (tenant_id, performer_id, id)
);
call isolate_performed('phase');
revoke update, delete on phase from quarterlight_app;
grant update (ended_at, note) on phase to quarterlight_app;
create index phase_job on phase (tenant_id, job_id, started_at);

create table job_note (
    tenant_id    uuid not null,
    performer_id uuid not null,
    id           uuid not null,
    job_id       uuid not null,
    text         text not null check (length(text) between 1 and 4000),
    written_at   timestamptz not null,
    written_by   text not null,
    primary key (tenant_id, id),
    unique (performer_id, id),
    foreign key (tenant_id, performer_id, job_id) references job (tenant_id, performer_id, id)
);
call isolate_performed('job_note');
revoke update, delete on job_note from quarterlight_app;
create index job_note_job on job_note (tenant_id, job_id, written_at);

-- The bytes lie in the fleet's folder, whoever took the picture.
create table job_photo (
    tenant_id    uuid not null,
    performer_id uuid not null,
    id           uuid not null,
    job_id       uuid not null,
    shows        text not null check (shows in ('BEFORE', 'AFTER', 'OTHER')),
    sha256       text not null check (sha256 ~ '^[0-9a-f]{64}$'),
    media_type   text not null,
    bytes        bigint not null,
    width        int not null,
    height       int not null,
    added_at     timestamptz not null,
    added_by     text not null,
    primary key (tenant_id, id),
    unique (performer_id, id),
    unique (tenant_id, job_id, shows, sha256),
    foreign key (tenant_id, performer_id, job_id) references job (tenant_id, performer_id, id)
);
call isolate_performed('job_photo');
revoke update, delete on job_photo from quarterlight_app;
create index job_photo_job on job_photo (tenant_id, job_id, added_at);
create index job_photo_content on job_photo (tenant_id, sha256);

-- The performer's own: what is in its vans.
create table resin_lot (
    tenant_id  uuid not null default current_tenant(),
    id         uuid not null,
    number     text not null check (length(number) between 1 and 60),
    resin      text not null check (length(resin) between 1 and 120),
    expires_on date not null,
    opened_on  date,
    retired_at timestamptz,
    version    int not null,
    primary key (tenant_id, id),
    unique (tenant_id, number)
);
call isolate_tenant('resin_lot');
create index resin_lot_expiry on resin_lot (tenant_id, expires_on, id);
