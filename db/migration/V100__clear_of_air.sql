-- Whether the break was clear of air when a vacuum ended; null where nobody said.
alter table phase add clear_of_air boolean;
grant update (clear_of_air) on phase to quarterlight_app;
