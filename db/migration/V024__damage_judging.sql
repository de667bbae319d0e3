-- A fleet is judged anew glass by glass; those with something open are found in their order.
create index damage_open_windscreen on damage (tenant_id, windscreen_id) where state <> 'CLOSED';
