-- First of all, for it covers only what the same owner makes after it.
alter default privileges in schema public grant select, insert, update, delete on tables to quarterlight_app;
alter default privileges in schema public grant usage, select on sequences to quarterlight_app;

-- The organisation that a transaction acts for; null, and so no rows, where nobody said.
-- After a transaction the setting is '' instead of null.
create function current_tenant() returns uuid language sql stable parallel safe
    return nullif(current_setting('app.tenant', true), '')::uuid;

-- With FORCE an owner without a policy of its own sees nothing, and a backfill says UPDATE 0.
create procedure force_row_policies(owned regclass) language plpgsql as $$
begin
    execute format('alter table %s enable row level security', owned);
    execute format('alter table %s force row level security', owned);
    execute format('create policy owner on %s to quarterlight_owner using (true)', owned);
end $$;

-- Rows of one organisation.
create procedure isolate_tenant(owned regclass) language plpgsql as $$
begin
    call force_row_policies(owned);
    execute format('create policy tenant on %s to quarterlight_app using (tenant_id = current_tenant())', owned);
end $$;

-- Rows of two organisations: the fleet makes them, both read and change them.
create procedure isolate_parties(owned regclass) language plpgsql as $$
declare
    party text := '(tenant_id = current_tenant() or performer_id = current_tenant())';
begin
    call force_row_policies(owned);
    execute format('create policy party_reads on %s for select to quarterlight_app using %s', owned, party);
    execute format('create policy party_changes on %s for update to quarterlight_app using %s', owned, party);
    execute format('create policy fleet_makes on %s for insert to quarterlight_app
                    with check (tenant_id = current_tenant())', owned);
end $$;

-- Announcements of one module to others, kept until every listener has done its work.
create table event_publication (
    id                     uuid primary key,
    listener_id            text not null,
    event_type             text not null,
    serialized_event       text not null,
    publication_date       timestamptz not null,
    completion_date        timestamptz,
    status                 text,
    completion_attempts    int,
    last_resubmission_date timestamptz
);
create index event_publication_serialized_event_hash_idx on event_publication using hash (serialized_event);
create index event_publication_by_completion_date_idx on event_publication (completion_date);

-- Signed-in browsers, shared by all nodes.
create table spring_session (
    primary_id            char(36) not null constraint spring_session_pk primary key,
    session_id            char(36) not null,
    creation_time         bigint not null,
    last_access_time      bigint not null,
    max_inactive_interval int not null,
    expiry_time           bigint not null,
    principal_name        varchar(100)
);
create unique index spring_session_ix1 on spring_session (session_id);
create index spring_session_ix2 on spring_session (expiry_time);
create index spring_session_ix3 on spring_session (principal_name);
create table spring_session_attributes (
    session_primary_id char(36) not null
        constraint spring_session_attributes_fk references spring_session (primary_id) on delete cascade,
    attribute_name     varchar(200) not null,
    attribute_bytes    bytea not null,
    constraint spring_session_attributes_pk primary key (session_primary_id, attribute_name)
);
