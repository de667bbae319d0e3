-- When each part of a record reached the service, beside the time that was told for it. Null where that was not kept yet.
alter table phase
    add end_recorded_at timestamptz,
    add end_offset_seconds int,
    add lamp_reading jsonb;
grant update (end_recorded_at, end_offset_seconds) on phase to quarterlight_app;
alter table job_reading
    add device_offset_seconds int,
    add person_id uuid;
alter table job_note add recorded_at timestamptz;
alter table job_photo add recorded_at timestamptz;
alter table lot_use
    add recorded_at timestamptz,
    add device_offset_seconds int,
    add person_id uuid;
alter table job
    add start_recorded_at timestamptz,
    add inspection_recorded_at timestamptz,
    add inspection_offset_seconds int,
    add inspection_person_id uuid,
    add end_recorded_at timestamptz;
grant update (start_recorded_at, inspection_recorded_at, inspection_offset_seconds, inspection_person_id, end_recorded_at)
    on job to quarterlight_app;

-- No lot was used before somebody took it in, and some are usable for a number of days once they are open.
alter table resin_lot
    add taken_in_at timestamptz,
    add usable_days int check (usable_days between 1 and 3650);

-- Each calibration of a camera behind new glass, a failed one too.
create table job_calibration (
    tenant_id    uuid not null,
    performer_id uuid not null,
    id           uuid not null,
    job_id       uuid not null,
    passed       boolean not null,
    manner       text not null check (manner in ('STATIC', 'DYNAMIC', 'BOTH')),
    tool         text not null check (length(tool) between 1 and 120),
    words        text not null check (length(words) <= 1000),
    done_at      timestamptz not null,
    recorded_at  timestamptz not null,
    done_by      text not null,
    primary key (tenant_id, id),
    unique (performer_id, id),
    foreign key (tenant_id, performer_id, job_id) references job (tenant_id, performer_id, id)
);
call isolate_performed('job_calibration');
revoke update, delete on job_calibration from quarterlight_app;
create index job_calibration_job on job_calibration (tenant_id, job_id, done_at);
