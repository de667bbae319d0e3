-- The two roles of Quarterlight, without passwords. Run by a superuser, connected to the database of the service; may be
-- run again. Whoever runs it sets the passwords afterwards: alter role quarterlight_owner password '…'.
do $$
begin
    if not exists (select from pg_roles where rolname = 'quarterlight_owner') then
        create role quarterlight_owner;
    end if;
    if not exists (select from pg_roles where rolname = 'quarterlight_app') then
        create role quarterlight_app;
    end if;
end $$;

-- Neither may pass by the row policies: the owner migrates, the application serves.
alter role quarterlight_owner login nosuperuser nocreatedb nocreaterole nobypassrls;
alter role quarterlight_app login nosuperuser nocreatedb nocreaterole nobypassrls;

alter schema public owner to quarterlight_owner;
revoke create on schema public from public;
grant usage on schema public to quarterlight_app;
