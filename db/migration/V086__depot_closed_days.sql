-- Days on which a depot is closed besides those of the week: holidays, a works holiday.
alter table depot add column closed_on date[] not null default '{}';

-- A plan may count kilometres alone. What is due of a vehicle whose odometer tells no rate yet is a guess, and says so.
alter table inspection_plan alter column period_days drop not null;
alter table inspection_plan add constraint inspection_plan_period
    check (period_days is not null or period_km is not null) not valid;
alter table inspection add column reading_needed boolean not null default false;
