-- What has burnt since somebody changed the lamp, so that counting it need not move the version that forms are held against.
alter table lamp add burnt_unseen numeric(9, 3) not null default 0 check (burnt_unseen >= 0);
