-- What a repair and a new windscreen cost a fleet, on the average; figures of its own for weighing rules.
create table cost_rates (
    tenant_id         uuid not null default current_tenant(),
    repair_minor      bigint not null check (repair_minor between 0 and 100000000),
    replacement_minor bigint not null check (replacement_minor between 0 and 100000000),
    currency          text not null check (currency ~ '^[A-Z]{3}$'),
    version           int not null,
    primary key (tenant_id)
);
call isolate_tenant('cost_rates');

-- A fleet's open damages judged by another sheet, to look at; nothing is changed by it.
create table sheet_preview (
    tenant_id     uuid not null default current_tenant(),
    id            uuid not null,
    sheet_id      text not null,
    sheet_name    text not null,
    sheet_version int not null,
    replaces      text,
    replaces_name text,
    state         text not null check (state in ('RUNNING', 'DONE', 'CANCELLED', 'FAILED')),
    -- Windscreens, all and those judged.
    total         int not null,
    done          int not null default 0,
    made_by       text not null,
    made_at       timestamptz not null,
    -- Moved on while a service works on it: once it stands still, that service is gone.
    touched_at    timestamptz not null,
    ended_at      timestamptz,
    primary key (tenant_id, id)
);
call isolate_tenant('sheet_preview');

create table sheet_preview_damage (
    tenant_id    uuid not null default current_tenant(),
    preview_id   uuid not null,
    damage_id    uuid not null,
    from_outcome text not null check (from_outcome in ('STAND_DOWN', 'REPLACE', 'MEASURE_AGAIN', 'REPAIR', 'WATCH')),
    to_outcome   text not null check (to_outcome in ('STAND_DOWN', 'REPLACE', 'MEASURE_AGAIN', 'REPAIR', 'WATCH')),
    primary key (tenant_id, preview_id, damage_id),
    foreign key (tenant_id, preview_id) references sheet_preview on delete cascade
);
call isolate_tenant('sheet_preview_damage');
create index sheet_preview_cell on sheet_preview_damage (tenant_id, preview_id, from_outcome, to_outcome, damage_id);
