-- How a damage runs, as somebody drew it: x and y of a crack's corners in turn, length and direction of a star's legs in
-- turn. What nobody drew is null. A day is known where somebody said since when it is there.
alter table observation
    add column course    numeric[],
    add column legs      numeric[],
    add column body_mm   numeric,
    add column arisen_on date,
    -- Not read through for old rows while nobody may write: they hold none of these.
    add constraint observation_course
        check (cardinality(course) between 4 and 100 and cardinality(course) % 2 = 0) not valid,
    add constraint observation_legs check (cardinality(legs) between 2 and 48 and cardinality(legs) % 2 = 0) not valid,
    add constraint observation_body check (body_mm > 0) not valid,
    add constraint observation_lines check (course is null or legs is null) not valid;
