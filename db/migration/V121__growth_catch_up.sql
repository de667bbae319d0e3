-- Damages judged before it was noted when they pass a limit: the service notes it of each once, in parts, and remembers
-- here how far it is. A fleet whose row is gone is through.
create table growth_catch_up (
    tenant_id   uuid not null default current_tenant(),
    -- The windscreen followed last.
    followed_to uuid not null,
    primary key (tenant_id)
);
call isolate_tenant('growth_catch_up');
insert into growth_catch_up (tenant_id, followed_to)
select id, '00000000-0000-0000-0000-000000000000' from organisation where kind = 'FLEET';

-- Of whom something is left: ids alone, so that the service can go on as each of them.
create function organisations_catching_up_growth() returns setof uuid
    language sql stable security definer set search_path = public, pg_temp as
    'select tenant_id from growth_catch_up';
revoke all on function organisations_catching_up_growth() from public;
grant execute on function organisations_catching_up_growth() to quarterlight_app;
