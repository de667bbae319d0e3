-- Where somebody with several organisations left off, so that signing in leads back there.
alter table person add column last_tenant_id uuid references organisation;
