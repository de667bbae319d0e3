-- How long a repair is made good for nothing, as it was agreed for its day: null as long as the glass is fitted.
alter table charge
    add warranty_months int check (warranty_months between 1 and 240),
    add warranty_until  date,
    add check (warranty_months is null or warranty_until is not null) not valid;

-- Work that was done before there was a price may be priced once, by prices accepted later that reach back to its day.
grant update (basis, agreement_id, chips, further_chips, work_minor, call_out_minor, currency,
    warranty_months, warranty_until) on charge to quarterlight_app;
create function keep_priced_charge() returns trigger language plpgsql as $$
begin
    if (old.basis, old.agreement_id, old.chips, old.further_chips, old.work_minor, old.call_out_minor, old.currency,
            old.warranty_months, old.warranty_until)
            is distinct from
            (new.basis, new.agreement_id, new.chips, new.further_chips, new.work_minor, new.call_out_minor, new.currency,
            new.warranty_months, new.warranty_until)
        and (old.basis <> 'NOT_AGREED' or new.basis <> 'AGREED') then
        raise exception 'charge % has its price and keeps it', old.id using errcode = 'restrict_violation';
    end if;
    return old;
end $$;
-- After the row, so that who touches another organisation's is told so by the policy first.
create trigger keep_priced after update on charge for each row execute function keep_priced_charge();

-- Whoever did a repair may say once why it has not failed. It changes neither the claim nor who counts it.
alter table job
    add contested_at   timestamptz,
    add contested_by   text,
    add contest_reason text check (length(contest_reason) between 1 and 500),
    add check ((contested_at is null) = (contest_reason is null)) not valid;
grant update (contested_at, contested_by, contest_reason) on job to quarterlight_app;
