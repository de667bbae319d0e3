-- What the look over found of the finished repair and what the acceptance sheets of the brief said of it; null where nobody has
-- looked since the work went on, and for jobs from before sheets travelled with them.
alter table job add acceptance jsonb;
grant update (acceptance) on job to quarterlight_app;
