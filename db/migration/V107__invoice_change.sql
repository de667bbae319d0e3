-- Invoices whose number was corrected, or whose charges were released: what it was, what it is, why, by whom, when. Written by
-- the performer, read by both, never changed.
create table invoice_change (
    tenant_id    uuid not null,
    performer_id uuid not null,
    id           uuid not null,
    old_number   text not null check (length(old_number) between 1 and 60),
    -- Null: the charges are on no invoice any more.
    new_number   text check (length(new_number) between 1 and 60 and new_number <> old_number),
    charges      int not null check (charges > 0),
    reason       text not null check (length(reason) between 1 and 500),
    changed_at   timestamptz not null,
    changed_by   text not null,
    primary key (tenant_id, id),
    unique (performer_id, id),
    foreign key (tenant_id, performer_id) references partner (tenant_id, performer_id)
);
call isolate_performed('invoice_change');
revoke update, delete on invoice_change from quarterlight_app;
create index invoice_change_newest on invoice_change (tenant_id, changed_at desc, id desc);
create index invoice_change_performer_newest on invoice_change (performer_id, changed_at desc, id desc);

-- The last of them that a charge went through. Not validated: there is none yet.
alter table charge
    add invoice_change_id uuid,
    add foreign key (tenant_id, invoice_change_id) references invoice_change (tenant_id, id) not valid;
grant update (invoice_change_id) on charge to quarterlight_app;
