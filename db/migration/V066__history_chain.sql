-- Each line of the history is linked to the one before: a number without gaps, the hash before, and its own. In tables of
-- their own, so that the history is not locked for it. No key leads to the history: what is deleted there is to be found.
create table history_link (
    tenant_id  uuid not null,
    number     bigint not null check (number > 0),
    history_id uuid not null,
    previous   bytea not null,
    hash       bytea not null,
    primary key (tenant_id, number),
    unique (tenant_id, history_id)
);
call isolate_tenant('history_link');
revoke insert, update, delete on history_link from quarterlight_app;

-- Where an organisation's chain ends: the one row that is locked to go on with it.
create table history_head (
    tenant_id uuid primary key,
    number    bigint not null,
    hash      bytea not null
);
call isolate_tenant('history_head');
revoke insert, update, delete on history_head from quarterlight_app;

-- Heads signed by the service: whatever was true up to there cannot be written anew without the key.
create table history_seal (
    tenant_id uuid not null default current_tenant(),
    number    bigint not null check (number > 0),
    hash      bytea not null,
    sealed_at timestamptz not null,
    jws       text not null,
    primary key (tenant_id, number)
);
call isolate_tenant('history_seal');
revoke update, delete on history_seal from quarterlight_app;

-- SHA-256 of a line in its canonical form, RFC 8785: members by name, texts escaped as little as JSON allows, which is
-- also how to_json writes them. The service computes the same without this function.
create function history_hash(line history, number bigint, previous bytea) returns bytea language sql stable as $$
    select sha256(convert_to(
           '{"action":'       || to_json(line.action)
        || ',"at":"'          || to_char(line.at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') || '"'
        || ',"detail":'       || to_json(line.detail)
        || ',"id":"'          || line.id || '"'
        || ',"number":'       || number
        || ',"organisation":"' || line.tenant_id || '"'
        || ',"person":'       || coalesce('"' || line.person_id || '"', 'null')
        || ',"previous":"'    || encode(previous, 'hex') || '"'
        || ',"subject":'      || to_json(line.subject)
        || ',"subjectId":'    || coalesce('"' || line.subject_id || '"', 'null')
        || ',"who":'          || to_json(line.who)
        || '}', 'UTF8'))
$$;

-- Goes on with the chain of the line's organisation. Of the owner's, for the application may not write links.
create function link_history(line history) returns void
    language plpgsql security definer set search_path = public, pg_temp as $$
declare
    head history_head;
    own  bytea;
begin
    select * into head from history_head where tenant_id = line.tenant_id for update;
    if not found then
        insert into history_head values (line.tenant_id, 0, decode(repeat('00', 32), 'hex')) on conflict do nothing;
        select * into strict head from history_head where tenant_id = line.tenant_id for update;
    end if;
    own := history_hash(line, head.number + 1, head.hash);
    insert into history_link values (line.tenant_id, head.number + 1, line.id, head.hash, own);
    update history_head set number = head.number + 1, hash = own where tenant_id = line.tenant_id;
end $$;
revoke all on function link_history(history) from public;

-- At the end of the transaction that adds a line, so that its organisation's head is locked for the commit alone, and
-- after every other row: two transactions cannot wait for each other there.
create function history_added() returns trigger
    language plpgsql security definer set search_path = public, pg_temp as $$
begin
    perform link_history(new);
    return null;
end $$;
create constraint trigger history_added after insert on history deferrable initially deferred
    for each row execute function history_added();

-- Whose head is not signed yet: ids alone, so that the service can go on as each of them.
create function organisations_with_unsealed_history() returns setof uuid
    language sql stable security definer set search_path = public, pg_temp as
    'select h.tenant_id from history_head h
     where not exists (select from history_seal s where s.tenant_id = h.tenant_id and s.number >= h.number)';
revoke all on function organisations_with_unsealed_history() from public;
grant execute on function organisations_with_unsealed_history() to quarterlight_app;
