-- An abandoned job is followed by one request, however often its end is told. A failed repair may fail again.
create unique index job_followed_once on job (tenant_id, follows_id) where follows_id is not null and not warranty;
