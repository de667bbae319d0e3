-- A change is refused after the row, so that who gives a row to another organisation is told so by the policy first.
create or replace function keep_published_sheet() returns trigger language plpgsql as $$
begin
    if old.state = 'PUBLISHED' then
        raise exception 'version % of sheet % is published and never changes', old.number, old.sheet_id
            using errcode = 'restrict_violation';
    end if;
    return old;
end $$;
drop trigger keep_published on own_sheet_version;
create trigger keep_published after update on own_sheet_version
    for each row execute function keep_published_sheet();
create trigger keep_published_from_deletion before delete on own_sheet_version
    for each row execute function keep_published_sheet();
