-- Prices count when the other side has accepted them. What was written down before that was asked counts as accepted, by
-- nobody and at no time: a constant default, which touches no row, and is gone again for what comes.
alter table price_agreement
    add proposed_by_id  uuid,
    add answer          text default 'ACCEPTED' check (answer in ('ACCEPTED', 'DECLINED', 'WITHDRAWN')),
    add answered_at     timestamptz,
    add answered_by     text,
    add answer_reason   text check (length(answer_reason) between 1 and 500),
    add warranty_months int check (warranty_months between 1 and 240),
    add check (proposed_by_id in (tenant_id, performer_id)),
    add check (proposed_by_id is null or (answer is null) = (answered_at is null)),
    add check (answer <> 'DECLINED' or answer_reason is not null);
alter table price_agreement alter answer drop default;

-- Either side proposes in its own name, without an answer; once it is answered: who proposed may only take it back.
drop policy fleet_makes on price_agreement;
create policy party_proposes on price_agreement for insert to quarterlight_app
    with check (current_tenant() in (tenant_id, performer_id) and proposed_by_id = current_tenant());
revoke insert on price_agreement from quarterlight_app;
grant insert (tenant_id, performer_id, id, valid_from, currency, repair_minor, further_minor, call_out_minor,
    replacement_minor, warranty_months, made_at, made_by, proposed_by_id) on price_agreement to quarterlight_app;
drop policy party_changes on price_agreement;
create policy party_answers on price_agreement for update to quarterlight_app
    using (current_tenant() in (tenant_id, performer_id) and answer is null)
    with check (current_tenant() in (tenant_id, performer_id)
        and (answer = 'WITHDRAWN') = (proposed_by_id = current_tenant()));
grant update (answer, answered_at, answered_by, answer_reason) on price_agreement to quarterlight_app;

-- What waits for an answer, from either side.
create index price_agreement_waits on price_agreement (tenant_id) where answer is null;
create index price_agreement_performer_waits on price_agreement (performer_id) where answer is null;
