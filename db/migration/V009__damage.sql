-- One impact on one windscreen. Outcome, rank, date and size repeat the newest verdict and observation, for lists.
create table damage (
    tenant_id      uuid not null default current_tenant(),
    id             uuid not null,
    vehicle_id     uuid not null,
    windscreen_id  uuid not null,
    number         int not null check (number > 0),
    kind           text not null check (kind in ('PIT', 'BULLSEYE', 'HALF_MOON', 'STAR_BREAK', 'COMBINATION_BREAK', 'CRACK', 'NOT_SURE')),
    state          text not null check (state in ('OPEN', 'IN_HAND', 'CLOSED')),
    closed_as      text check (closed_as in ('REPAIRED', 'REPLACED', 'WITHDRAWN')),
    closed_at      timestamptz,
    closed_because text,
    job_id         uuid,
    occurred_at    timestamptz not null,
    arrived_at     timestamptz not null,
    reported_by    text not null,
    person_id      uuid,
    cab_code_id    uuid,
    outcome        text not null check (outcome in ('STAND_DOWN', 'REPLACE', 'MEASURE_AGAIN', 'REPAIR', 'WATCH')),
    rank           smallint not null,
    act_by         date not null,
    diameter_mm    numeric not null,
    version        int not null,
    primary key (tenant_id, id),
    unique (tenant_id, windscreen_id, number),
    -- Foreign keys are checked past the row policy, so they carry the organisation themselves.
    foreign key (tenant_id, vehicle_id) references vehicle,
    foreign key (tenant_id, windscreen_id) references windscreen,
    check ((state = 'CLOSED') = (closed_as is not null))
);
call isolate_tenant('damage');
create index damage_newest on damage (tenant_id, occurred_at desc, id desc);
create index damage_worst on damage (tenant_id, rank, act_by, id) where state <> 'CLOSED';
create index damage_to_decide on damage (tenant_id, rank, act_by, id) where state = 'OPEN' and outcome <> 'WATCH';
create index damage_vehicle on damage (tenant_id, vehicle_id, occurred_at desc, id desc);
create index damage_person on damage (tenant_id, person_id, occurred_at desc, id desc) where person_id is not null;
create index damage_job on damage (tenant_id, job_id) where job_id is not null;

-- What was seen of a damage at one time. Never changed.
create table observation (
    tenant_id     uuid not null default current_tenant(),
    id            uuid not null,
    damage_id     uuid not null,
    kind          text not null,
    x_mm          numeric not null,
    y_mm          numeric not null,
    to_x_mm       numeric,
    to_y_mm       numeric,
    diameter_mm   numeric not null check (diameter_mm > 0),
    diameter_standard_uncertainty_mm numeric not null check (diameter_standard_uncertainty_mm >= 0),
    pit_mm        numeric check (pit_mm >= 0),
    longest_leg_mm numeric check (longest_leg_mm >= 0),
    layers        text check (layers in ('OUTER', 'THROUGH')),
    condition     text check (condition in ('CLEAN_DRY', 'WET', 'DIRTY')),
    source        text not null check (source in ('EYE', 'GAUGE', 'PHOTO')),
    found         text check (found in ('NONE', 'MINOR', 'MAJOR', 'DANGEROUS')),
    note          text not null default '',
    seen_at       timestamptz not null,
    arrived_at    timestamptz not null,
    seen_by       text not null,
    primary key (tenant_id, id),
    foreign key (tenant_id, damage_id) references damage
);
call isolate_tenant('observation');
revoke update, delete on observation from quarterlight_app;
create index observation_damage on observation (tenant_id, damage_id, seen_at desc, id desc);

-- Every judgement that came out differently from the one before.
create table verdict (
    tenant_id      uuid not null default current_tenant(),
    id             uuid not null,
    damage_id      uuid not null,
    observation_id uuid not null,
    outcome        text not null,
    content        jsonb not null,
    judged_at      timestamptz not null,
    primary key (tenant_id, id),
    foreign key (tenant_id, damage_id) references damage,
    foreign key (tenant_id, observation_id) references observation
);
call isolate_tenant('verdict');
revoke update, delete on verdict from quarterlight_app;
create index verdict_damage on verdict (tenant_id, damage_id, id desc);

create table damage_photo (
    tenant_id  uuid not null default current_tenant(),
    id         uuid not null,
    damage_id  uuid not null,
    sha256     text not null check (sha256 ~ '^[0-9a-f]{64}$'),
    media_type text not null,
    bytes      bigint not null,
    width      int not null,
    height     int not null,
    added_at   timestamptz not null,
    added_by   text not null,
    primary key (tenant_id, id),
    unique (tenant_id, damage_id, sha256),
    foreign key (tenant_id, damage_id) references damage
);
call isolate_tenant('damage_photo');
create index damage_photo_content on damage_photo (tenant_id, sha256);
