-- When somebody took the day's jobs with them: before that no device of theirs can have kept anything of these.
create table day_kit_taken (
    tenant_id uuid not null default current_tenant(),
    id        uuid not null,
    person_id uuid not null,
    jobs      uuid[] not null,
    taken_at  timestamptz not null,
    primary key (tenant_id, id)
);
call isolate_tenant('day_kit_taken');
create index day_kit_taken_by on day_kit_taken (tenant_id, person_id, taken_at);

-- Whether what the service saw bears out that a device had to keep it for want of a network. Null where that was not asked yet.
alter table phase
    add queued boolean,
    add end_queued boolean,
    add end_person_id uuid;
grant update (end_queued, end_person_id) on phase to quarterlight_app;
alter table job_reading add queued boolean;
alter table lot_use add queued boolean;
alter table job
    add start_queued boolean,
    add inspection_queued boolean;
grant update (start_queued, inspection_queued) on job to quarterlight_app;

-- When the camera says it was taken, and a SHA-256 of the picture itself, which a changed file with the same picture keeps.
alter table job_photo
    add queued boolean,
    add person_id uuid,
    add taken_at timestamptz,
    add picture_sha256 text check (picture_sha256 ~ '^[0-9a-f]{64}$');
