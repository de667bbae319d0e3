-- Who did what and when. Only added to; a correction is a new line.
create table history (
    tenant_id uuid not null default current_tenant(),
    id        uuid not null,
    at        timestamptz not null,
    person_id uuid,
    who       text not null,
    action    text not null,
    subject   text not null,
    subject_id uuid,
    detail    text not null default '',
    primary key (tenant_id, id)
);
call isolate_tenant('history');
revoke update, delete on history from quarterlight_app;
create index history_subject on history (tenant_id, subject_id, id);
