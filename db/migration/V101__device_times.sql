-- What a device told after it had been without a network: by which clock, and whether that clock was changed in between.
create table job_device_time (
    tenant_id             uuid not null,
    performer_id          uuid not null,
    id                    uuid not null,
    job_id                uuid not null,
    what                  text not null check (length(what) between 1 and 40),
    done_at               timestamptz not null,
    offset_seconds        int not null,
    clock_changed_seconds int,
    recorded_at           timestamptz not null,
    primary key (tenant_id, id),
    unique (performer_id, id),
    unique (tenant_id, job_id, what, done_at),
    foreign key (tenant_id, performer_id, job_id) references job (tenant_id, performer_id, id)
);
call isolate_performed('job_device_time');
revoke update, delete on job_device_time from quarterlight_app;

-- The phase that a note or photo belongs to; null where it belongs to the job as a whole. Not checked for what is there: that
-- has none.
alter table job_note
    add phase_id uuid,
    add constraint job_note_phase foreign key (tenant_id, phase_id) references phase not valid;
alter table job_photo
    add phase_id uuid,
    add constraint job_photo_phase foreign key (tenant_id, phase_id) references phase not valid;
