-- A first password is known to whoever gave it: it opens nothing until the person has chosen another.
alter table person add column password_is_first boolean not null default false;
alter table person add column password_changed_at timestamptz;

-- Somebody with a login is taken in by their own consent.
alter table membership add column invited boolean not null default false;

-- The key that a key was made with: the one ends with the other.
alter table token add column made_with uuid;
alter table token add foreign key (tenant_id, made_with) references token;
create index token_made_with on token (tenant_id, made_with) where made_with is not null;
