-- An inspection found that a finished repair has failed; its manager asks for it to be made good.
alter table damage add column failed_at timestamptz, add column failed_because text;
create index damage_failed on damage (tenant_id, failed_at, id) where failed_at is not null;

-- Not checked against the rows from before, which hold the words from before: nobody waits for that.
alter table inspection_finding drop constraint inspection_finding_answer_check;
alter table inspection_finding add constraint inspection_finding_answer_check
    check (answer in ('CONFIRMED', 'CHANGED', 'NEW', 'GONE', 'FAILED')) not valid;
