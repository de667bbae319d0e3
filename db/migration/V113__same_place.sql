-- The repaired damage that a new one lies on, so that it leads to the job that repaired it. Taken away by who says it is another.
alter table damage
    add same_place_id uuid,
    add constraint damage_same_place foreign key (tenant_id, same_place_id) references damage;
