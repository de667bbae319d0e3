-- Who records a phase is at that work: whether they may begin another meanwhile is asked of the person, not of a name.
alter table phase add person_id uuid;
