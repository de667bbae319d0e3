-- A repair that failed afterwards says so itself: whoever did it may never see the job that makes it good.
alter table job add came_back_at timestamptz;
grant update (came_back_at) on job to quarterlight_app;
update job j set came_back_at = w.requested_at from job w
where w.tenant_id = j.tenant_id and w.follows_id = j.id and w.warranty and w.state <> 'DECLINED';
create index job_performer_repaired on job (performer_id, ended_at)
    where performer_id is not null and work = 'REPAIR' and state = 'CLOSED';
