-- A list of vehicles that somebody sent, and what became of it. The file itself lies in the data folder.
create table vehicle_import (
    tenant_id     uuid not null default current_tenant(),
    id            uuid not null,
    state         text not null check (state in ('WAITING', 'RUNNING', 'DONE', 'REFUSED', 'INTERRUPTED')),
    mode          text not null check (mode in ('PREVIEW', 'GOOD_ROWS', 'ALL_OR_NOTHING')),
    file_name     text not null,
    file_id       uuid not null,
    -- What holds for new vehicles where the list says nothing.
    depot_id      uuid,
    category      text,
    steering_side text,
    -- How the list was read: encoding, separator, columns, dates.
    shape         jsonb,
    total         int not null default 0,
    done          int not null default 0,
    added         int not null default 0,
    changed       int not null default 0,
    same          int not null default 0,
    bad           int not null default 0,
    doubtful      int not null default 0,
    problem       text not null default '',
    made_by       text not null,
    made_at       timestamptz not null,
    -- Moved on while a service works on it: once it stands still, that service is gone.
    touched_at    timestamptz not null,
    ended_at      timestamptz,
    primary key (tenant_id, id),
    foreign key (tenant_id, depot_id) references depot
);
call isolate_tenant('vehicle_import');

-- Rows worth telling about: kept out, doubtful, or about to change something.
create table vehicle_import_row (
    tenant_id    uuid not null default current_tenant(),
    import_id    uuid not null,
    kind         text not null check (kind in ('BAD', 'DOUBTFUL', 'CHANGED')),
    number       int not null check (number > 0),
    registration text not null,
    problems     jsonb not null,
    cells        jsonb not null,
    primary key (tenant_id, import_id, kind, number),
    foreign key (tenant_id, import_id) references vehicle_import on delete cascade
);
call isolate_tenant('vehicle_import_row');

-- After a large import the service lets the planner count anew, instead of leaving every list slow until that happens.
grant maintain on vehicle, windscreen, vehicle_condition to quarterlight_app;
