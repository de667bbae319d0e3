-- Who pays: the fleet says so for each job.
alter table job
    add payer text not null default 'FLEET' check (payer in ('FLEET', 'INSURER')),
    add claim_reference text check (length(claim_reference) between 1 and 60),
    add check (payer = 'INSURER' or claim_reference is null);
grant update (payer, claim_reference) on job to quarterlight_app;

-- What a job costs its fleet, fixed when it ends: written by the performer, read by both, and changed only by the number
-- of the invoice that it went into. Amounts are null where nothing was agreed.
create table charge (
    tenant_id       uuid not null,
    performer_id    uuid not null,
    id              uuid not null,
    job_id          uuid not null,
    basis           text not null check (basis in ('AGREED', 'FAILED', 'WARRANTY', 'NOT_AGREED')),
    agreement_id    uuid,
    chips           int not null check (chips >= 0),
    further_chips   int not null check (further_chips between 0 and chips),
    work_minor      bigint check (work_minor >= 0),
    call_out_minor  bigint check (call_out_minor >= 0),
    currency        text check (currency ~ '^[A-Z]{3}$'),
    -- The visit that it belongs to: the same vehicle and depot on the same day by the same van, or technician without one.
    vehicle_id      uuid not null,
    depot_id        uuid not null,
    visited_on      date not null,
    visited_by      text not null,
    fixed_at        timestamptz not null,
    invoice_number  text check (length(invoice_number) between 1 and 60),
    invoiced_at     timestamptz,
    invoiced_by     text,
    primary key (tenant_id, id),
    unique (performer_id, id),
    unique (tenant_id, job_id),
    foreign key (tenant_id, performer_id, job_id) references job (tenant_id, performer_id, id),
    foreign key (tenant_id, agreement_id) references price_agreement,
    check ((work_minor is null) = (currency is null) and (call_out_minor is null) = (currency is null)),
    check ((invoice_number is null) = (invoiced_at is null))
);
call isolate_performed('charge');
revoke update, delete on charge from quarterlight_app;
grant update (invoice_number, invoiced_at, invoiced_by) on charge to quarterlight_app;
create index charge_performer_newest on charge (performer_id, visited_on desc, id desc);
create index charge_performer_open on charge (performer_id, visited_on desc, id desc) where invoice_number is null;
create index charge_fleet_newest on charge (tenant_id, visited_on desc, id desc);
create index charge_invoice on charge (performer_id, invoice_number) where invoice_number is not null;
create index charge_visit on charge (performer_id, tenant_id, visited_on, depot_id);
