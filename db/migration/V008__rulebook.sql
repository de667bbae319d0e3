-- What an organisation decided about judging. Where it never decided, the figures that the service starts with apply.
create table rulebook (
    tenant_id                     uuid not null default current_tenant(),
    accepted_risk_safety          numeric not null check (accepted_risk_safety between 0 and 0.4),
    accepted_risk_repair          numeric not null check (accepted_risk_repair between 0 and 0.4),
    leave_alone_pit_mm            numeric not null check (leave_alone_pit_mm between 0 and 20),
    replace_what_cannot_be_repaired boolean not null,
    major_stands_down_for         text[] not null,
    days                          jsonb not null,
    version                       int not null,
    primary key (tenant_id)
);
call isolate_tenant('rulebook');

-- The sheets chosen for one vehicle category. A category without rows uses those of the depot's country.
create table chosen_sheet (
    tenant_id uuid not null default current_tenant(),
    category  text not null check (category in ('M1', 'M2', 'M3', 'N1', 'N2', 'N3')),
    sheet_id  text not null,
    primary key (tenant_id, category, sheet_id)
);
call isolate_tenant('chosen_sheet');
