-- Blades, films and lamps are stock too, and do not grow old on a shelf.
alter table resin_lot drop constraint resin_lot_kind_check;
alter table resin_lot
    alter expires_on drop not null,
    add check (kind in ('RESIN', 'PIT_FILLER', 'ADHESIVE', 'FILM', 'BLADE', 'CLEANER', 'LAMP', 'OTHER')),
    add check (expires_on is not null or kind in ('FILM', 'BLADE', 'LAMP'));
drop index resin_lot_expiry;
create index resin_lot_expiry on resin_lot (tenant_id, coalesce(expires_on, 'infinity'::date), id);

-- Where material lies: a store, or a van.
create table stock_place (
    tenant_id  uuid not null default current_tenant(),
    id         uuid not null,
    name       text not null check (length(name) between 1 and 60),
    kind       text not null check (kind in ('STORE', 'VAN')),
    retired_at timestamptz,
    version    int not null,
    primary key (tenant_id, id)
);
call isolate_tenant('stock_place');
create unique index stock_place_name on stock_place (tenant_id, name) where retired_at is null;

-- How much of a kind a place should hold at least.
create table stock_level (
    tenant_id uuid not null default current_tenant(),
    place_id  uuid not null,
    kind      text not null,
    at_least  numeric(9, 2) not null check (at_least >= 0),
    primary key (tenant_id, place_id, kind),
    foreign key (tenant_id, place_id) references stock_place
);
call isolate_tenant('stock_level');

-- What lies there now: the sum of its movements, kept in their transactions.
create table stock_balance (
    tenant_id uuid not null default current_tenant(),
    place_id  uuid not null,
    lot_id    uuid not null,
    quantity  numeric(9, 2) not null check (quantity >= 0),
    primary key (tenant_id, place_id, lot_id),
    foreign key (tenant_id, place_id) references stock_place,
    foreign key (tenant_id, lot_id) references resin_lot
);
call isolate_tenant('stock_balance');
create index stock_balance_lot on stock_balance (tenant_id, lot_id);

-- Every change with why it came about; only ever added to.
create table stock_movement (
    tenant_id   uuid not null default current_tenant(),
    id          uuid not null,
    place_id    uuid not null,
    lot_id      uuid not null,
    kind        text not null check (kind in ('RECEIVED', 'USED', 'SENT', 'ARRIVED', 'COUNTED')),
    change      numeric(9, 2) not null,
    left_there  numeric(9, 2) not null check (left_there >= 0),
    job_id      uuid,
    other_place uuid,
    reason      text not null default '' check (length(reason) <= 500),
    moved_at    timestamptz not null,
    moved_by    text not null,
    primary key (tenant_id, id),
    foreign key (tenant_id, place_id) references stock_place,
    foreign key (tenant_id, lot_id) references resin_lot,
    foreign key (tenant_id, other_place) references stock_place,
    foreign key (tenant_id, job_id) references job (performer_id, id)
);
call isolate_tenant('stock_movement');
revoke update, delete on stock_movement from quarterlight_app;
create index stock_movement_place on stock_movement (tenant_id, place_id, id desc);

-- How much of a lot a job took, and from where.
alter table lot_use
    add place_id uuid,
    add quantity numeric(9, 2) check (quantity >= 0),
    add foreign key (tenant_id, place_id) references stock_place,
    add check ((place_id is null) = (quantity is null));
