-- A rule sheet of an organisation's own. What it says stands in its versions; what it was copied from, here.
create table own_sheet (
    tenant_id  uuid not null default current_tenant(),
    id         uuid not null,
    started_as text,
    made_at    timestamptz not null,
    made_by    text not null,
    primary key (tenant_id, id)
);
call isolate_tenant('own_sheet');

-- The content is kept as text, so that its lines and the order of its fields stay as they were written.
create table own_sheet_version (
    tenant_id    uuid not null default current_tenant(),
    sheet_id     uuid not null,
    number       int not null check (number > 0),
    state        text not null check (state in ('DRAFT', 'PUBLISHED')),
    content      text not null,
    valid_from   date,
    -- When that day begins where the organisation is: from then on it judges.
    applies_from timestamptz,
    changed_at   timestamptz not null,
    changed_by   text not null,
    version      int not null,
    primary key (tenant_id, sheet_id, number),
    foreign key (tenant_id, sheet_id) references own_sheet,
    check ((state = 'PUBLISHED') = (valid_from is not null)),
    check ((state = 'PUBLISHED') = (applies_from is not null))
);
call isolate_tenant('own_sheet_version');
create unique index own_sheet_one_draft on own_sheet_version (tenant_id, sheet_id) where state = 'DRAFT';

-- Verdicts name versions and must be found again as they were given.
create function keep_published_sheet() returns trigger language plpgsql as $$
begin
    if old.state = 'PUBLISHED' then
        raise exception 'version % of sheet % is published and never changes', old.number, old.sheet_id
            using errcode = 'restrict_violation';
    end if;
    return old;
end $$;
-- A change is refused after the row, so that who gives a row to another organisation is told so by the policy first.
create trigger keep_published after update on own_sheet_version
    for each row execute function keep_published_sheet();
create trigger keep_published_from_deletion before delete on own_sheet_version
    for each row execute function keep_published_sheet();

-- Published versions whose day is still to come, or has come and was not yet told.
create table own_sheet_start (
    tenant_id    uuid not null default current_tenant(),
    sheet_id     uuid not null,
    number       int not null,
    applies_from timestamptz not null,
    primary key (tenant_id, sheet_id, number),
    foreign key (tenant_id, sheet_id, number) references own_sheet_version
);
call isolate_tenant('own_sheet_start');

-- Whose day has come: ids alone, so that the service can go on as each of them.
create function organisations_with_sheets_starting(until timestamptz) returns setof uuid
    language sql stable security definer set search_path = public, pg_temp as
    'select distinct tenant_id from own_sheet_start where applies_from <= until';
revoke all on function organisations_with_sheets_starting(timestamptz) from public;
grant execute on function organisations_with_sheets_starting(timestamptz) to quarterlight_app;
