-- The record of a closed job as it was when it closed, signed: made once, never changed. The paper is drawn from it and
-- kept too. The id is random, not by time, for it is all that opens the page where anybody may check a certificate. The
-- number is the job's.
create table certificate (
    tenant_id    uuid not null,
    performer_id uuid not null,
    id           uuid not null,
    job_id       uuid not null,
    number       int not null,
    issued_at    timestamptz not null,
    jws          text not null,
    pdf          bytea,
    primary key (tenant_id, id),
    unique (performer_id, id),
    unique (tenant_id, job_id),
    foreign key (tenant_id, performer_id, job_id) references job (tenant_id, performer_id, id)
);
-- Whoever closes the job makes it; for one that was closed before there were certificates, whichever side asks first.
call isolate_parties('certificate');
create policy performer_makes on certificate for insert to quarterlight_app with check (performer_id = current_tenant());
revoke update, delete on certificate from quarterlight_app;
grant update (pdf) on certificate to quarterlight_app;

create function certificate_stays() returns trigger language plpgsql as $$
begin
    if old.pdf is not null then
        raise exception 'a certificate that was drawn is never changed';
    end if;
    return new;
end $$;
create trigger certificate_stays before update on certificate for each row execute function certificate_stays();
