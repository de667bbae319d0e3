-- A calendar program sends no header, so its key stands in an address and must be good for nothing else.
alter table token add column for_calendar boolean not null default false;
