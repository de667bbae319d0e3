alter table vehicle add column first_registered date;
-- How people type a registration when they look for it: hyphens and dots left out.
alter table vehicle add column registration_search text collate "C" not null
    generated always as (translate(registration_key, '-.·', '')) stored;
create index vehicle_search on vehicle (tenant_id, registration_search) where retired_at is null;
create index vehicle_category on vehicle (tenant_id, category, registration_key) where retired_at is null;

drop index vehicle_vin;
create index vehicle_vin on vehicle (tenant_id, vin) where vin is not null and retired_at is null;
