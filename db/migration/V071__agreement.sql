-- What a fleet gives a partner at all: which depots, from when to when, and whether only at prices that are agreed.
-- The fleet sets it, its partner reads it. No row: no limit.
create table partner_limit (
    tenant_id          uuid not null,
    performer_id       uuid not null,
    -- Null: every depot, also those to come. Depots are retired and never deleted.
    depots             uuid[] check (cardinality(depots) between 1 and 500),
    works_from         date,
    works_until        date check (works_until >= works_from),
    agreed_prices_only boolean not null,
    version            int not null,
    primary key (tenant_id, performer_id),
    foreign key (tenant_id, performer_id) references partner (tenant_id, performer_id)
);
call isolate_parties('partner_limit');
drop policy party_changes on partner_limit;
create policy fleet_changes on partner_limit for update to quarterlight_app using (tenant_id = current_tenant());
revoke update, delete on partner_limit from quarterlight_app;
grant update (depots, works_from, works_until, agreed_prices_only, version) on partner_limit to quarterlight_app;

-- Prices from a day on, until others follow. What was agreed is never changed: of two for one day the later made counts.
create table price_agreement (
    tenant_id         uuid not null,
    performer_id      uuid not null,
    id                uuid not null,
    valid_from        date not null,
    currency          text not null check (currency ~ '^[A-Z]{3}$'),
    repair_minor      bigint not null check (repair_minor between 0 and 100000000),
    further_minor     bigint not null check (further_minor between 0 and 100000000),
    call_out_minor    bigint not null check (call_out_minor between 0 and 100000000),
    replacement_minor bigint check (replacement_minor between 0 and 100000000),
    made_at           timestamptz not null,
    made_by           text not null,
    primary key (tenant_id, id),
    unique (performer_id, id),
    foreign key (tenant_id, performer_id) references partner (tenant_id, performer_id)
);
call isolate_parties('price_agreement');
revoke update, delete on price_agreement from quarterlight_app;
create index price_agreement_day on price_agreement (tenant_id, performer_id, valid_from desc, id desc);
create index price_agreement_performer on price_agreement (performer_id, tenant_id, valid_from desc, id desc);
