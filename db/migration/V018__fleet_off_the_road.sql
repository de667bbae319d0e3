-- Vehicles that must not be driven are few in any fleet, and asked for on every start page.
create index vehicle_condition_off_the_road on vehicle_condition (tenant_id, vehicle_id)
    where stands_down_since is not null;
