-- Who gave up a repair of this damage, in which job and why: it counts as a person's finding that it cannot be repaired, whatever
-- sheets say, until new glass comes.
alter table damage add abandoned_job int;
alter table damage add abandoned_by text;
alter table damage add abandoned_because text;
alter table damage add abandoned_at timestamptz;
