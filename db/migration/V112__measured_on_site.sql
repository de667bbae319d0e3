-- The damage that a note tells the measurement of, taken at the vehicle; null where it tells something else.
alter table job_note add measured_damage_id uuid;
