create table depot (
    tenant_id     uuid not null default current_tenant(),
    id            uuid not null,
    name          text not null check (length(name) between 1 and 120),
    name_key      text collate "C" not null,
    address       text not null default '',
    latitude      numeric not null check (latitude between -90 and 90),
    longitude     numeric not null check (longitude between -180 and 180),
    zone          text not null,
    country       text not null check (country ~ '^[A-Z]{2}$'),
    subdivision   text,
    opening_hours jsonb not null,
    covered_bays  int not null check (covered_bays >= 0),
    contact       text not null default '',
    retired_at    timestamptz,
    version       int not null,
    primary key (tenant_id, id)
);
call isolate_tenant('depot');
create unique index depot_name on depot (tenant_id, name_key) where retired_at is null;

create table vehicle (
    tenant_id        uuid not null default current_tenant(),
    id               uuid not null,
    depot_id         uuid not null,
    registration     text not null check (length(registration) between 1 and 20),
    -- Upper case without blanks and hyphens. Collated "C": a search by its beginning is a range of the index.
    registration_key text collate "C" not null,
    vin              text collate "C" check (vin ~ '^[A-HJ-NPR-Z0-9]{17}$'),
    category         text not null check (category in ('M1', 'M2', 'M3', 'N1', 'N2', 'N3')),
    max_mass_kg      int check (max_mass_kg between 200 and 100000),
    steering_side    text not null check (steering_side in ('LEFT', 'RIGHT')),
    make_model       text not null default '',
    fleet_number     text not null default '',
    notes            text not null default '',
    retired_at       timestamptz,
    version          int not null,
    primary key (tenant_id, id),
    foreign key (tenant_id, depot_id) references depot
);
call isolate_tenant('vehicle');
create unique index vehicle_registration on vehicle (tenant_id, registration_key) where retired_at is null;
create index vehicle_vin on vehicle (tenant_id, vin) where vin is not null;
create index vehicle_depot on vehicle (tenant_id, depot_id, registration_key) where retired_at is null;

create table glass_pattern (
    tenant_id  uuid not null default current_tenant(),
    id         uuid not null,
    name       text not null check (length(name) between 1 and 120),
    -- Of the patterns to begin with: which, and steered from where.
    generic    text,
    latest     int not null check (latest > 0),
    retired_at timestamptz,
    version    int not null,
    primary key (tenant_id, id),
    unique (tenant_id, generic)
);
call isolate_tenant('glass_pattern');

-- What was measured. Never changed: a correction is a new number.
create table glass_pattern_version (
    tenant_id    uuid not null default current_tenant(),
    pattern_id   uuid not null,
    number       int not null check (number > 0),
    measurements jsonb not null,
    made_at      timestamptz not null,
    made_by      text not null,
    primary key (tenant_id, pattern_id, number),
    foreign key (tenant_id, pattern_id) references glass_pattern
);
call isolate_tenant('glass_pattern_version');
revoke update, delete on glass_pattern_version from quarterlight_app;

create table windscreen (
    tenant_id       uuid not null default current_tenant(),
    id              uuid not null,
    vehicle_id      uuid not null,
    pattern_id      uuid not null,
    pattern_number  int not null,
    fitted_on       date,
    removed_on      date,
    removed_because text,
    marking         text not null default '',
    made_at         timestamptz not null,
    primary key (tenant_id, id),
    foreign key (tenant_id, vehicle_id) references vehicle,
    foreign key (tenant_id, pattern_id, pattern_number) references glass_pattern_version
);
call isolate_tenant('windscreen');
create unique index windscreen_fitted on windscreen (tenant_id, vehicle_id) where removed_on is null;
create index windscreen_vehicle on windscreen (tenant_id, vehicle_id, made_at desc);

-- How a vehicle stands, written from above in the transaction of each change, so that lists sort and filter by it.
create table vehicle_condition (
    tenant_id    uuid not null default current_tenant(),
    vehicle_id   uuid not null,
    worst        text check (worst in ('STAND_DOWN', 'REPLACE', 'MEASURE_AGAIN', 'REPAIR', 'WATCH')),
    -- 0 is the worst; 9 where nothing is open.
    rank         smallint not null,
    open_count   int not null check (open_count >= 0),
    since        timestamptz,
    act_by       date not null,
    stands_down_since   timestamptz,
    stands_down_because text,
    version      int not null,
    primary key (tenant_id, vehicle_id),
    foreign key (tenant_id, vehicle_id) references vehicle
);
call isolate_tenant('vehicle_condition');
create index vehicle_condition_worst on vehicle_condition (tenant_id, rank, act_by, vehicle_id);

create table cab_code (
    tenant_id  uuid not null default current_tenant(),
    id         uuid not null,
    vehicle_id uuid not null,
    made_at    timestamptz not null,
    revoked_at timestamptz,
    primary key (tenant_id, id),
    foreign key (tenant_id, vehicle_id) references vehicle
);
call isolate_tenant('cab_code');
create index cab_code_vehicle on cab_code (tenant_id, vehicle_id, made_at desc);
