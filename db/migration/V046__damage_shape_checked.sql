alter table observation validate constraint observation_course;
alter table observation validate constraint observation_legs;
alter table observation validate constraint observation_body;
alter table observation validate constraint observation_lines;
