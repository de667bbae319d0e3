-- How far a fleet is with being judged by rules that were chosen anew; at the last id of all, all is judged.
create table judging (
    tenant_id     uuid not null default current_tenant(),
    -- Of the choice.
    version       int not null,
    -- The windscreen judged last.
    judged_to     uuid not null,
    begun_at      timestamptz not null,
    primary key (tenant_id)
);
call isolate_tenant('judging');
